package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.util.List;
import org.junit.jupiter.api.Test;

/** A condenser at its limit, in rooms that are and are not to blame. Limits are those of a machine that states none. */
class HotRoomTest {
    private static final double BEYOND_LIMIT = 70;

    private final PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);

    private Finding condenserAtItsLimit(double roomCelsius) {
        plate.cycles(60);
        plate.ambientCelsius = roomCelsius;
        plate.cycles(8);
        long from = plate.now();
        List<Reading> readings = plate.cycles(3).readings.stream()
                .map(r -> r.channel() == Channel.CONDENSER_TEMPERATURE && r.timeMillis() >= from
                        ? Reading.number(r.machine(), r.channel(), r.timeMillis(), BEYOND_LIMIT)
                        : r)
                .toList();
        List<Finding> found =
                new Scene(PlateModel.MACHINE).readings(readings).of(Condition.HIGH_CONDENSING_TEMPERATURE);
        assertThat(found).isNotEmpty();
        return found.get(0);
    }

    private static Cause first(Finding finding) {
        return finding.causes().get(0).cause();
    }

    @Test
    void roomHotterThanTheMachineIsMadeFor_isTheCause() {
        assertThat(first(condenserAtItsLimit(44))).isEqualTo(Cause.ROOM_TOO_HOT);
    }

    @Test
    void roomColderThanTheMachineIsMadeFor_isNot() {
        Finding found = condenserAtItsLimit(5);
        assertThat(first(found)).isEqualTo(Cause.FAN_FAILED);
        assertThat(found.causes()).extracting(Finding.ProbableCause::cause).doesNotContain(Cause.ROOM_TOO_HOT);
    }

    @Test
    void roomAsItShouldBe_isNot() {
        assertThat(first(condenserAtItsLimit(25))).isEqualTo(Cause.FAN_FAILED);
    }
}
