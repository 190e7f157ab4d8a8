package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
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

    /** Two machines of one room through fifteen days; from the tenth on the air at the first is so much warmer. */
    private static Scene twoMachines(double inletKelvin, double bothKelvin) {
        PlateModel boxedIn = new PlateModel(60, 0.2, true, true, false, 1);
        PlateModel other = new PlateModel(60, 0.2, true, true, false, 2);
        for (PlateModel plate : List.of(boxedIn, other)) {
            plate.cycles(10 * 60);
            plate.ambientCelsius += bothKelvin;
        }
        boxedIn.inletKelvin = inletKelvin;
        boxedIn.cycles(5 * 60);
        other.cycles(5 * 60);
        List<Reading> both = Stream.concat(boxedIn.readings.stream(), other.readingsOf("ice-2").stream())
                .sorted(Comparator.comparingLong(Reading::timeMillis))
                .toList();
        return new Scene(PlateModel.MACHINE, "ice-2").readings(both);
    }

    /** Its own warm air: the split against its sensor stays as it was, and only the neighbour tells. */
    @Test
    void airWarmerThanTheNeighboursByMoreThanEver_isItsOwn() {
        List<Finding> raised = twoMachines(7, 0).findings.stream()
                .filter(finding -> finding.step() == Finding.Step.RAISED)
                .filter(finding -> !finding.condition().isCare())
                .toList();

        assertThat(raised).hasSize(1);
        assertThat(raised.get(0).condition()).isEqualTo(Condition.RISING_CONDENSING_TEMPERATURE);
        assertThat(raised.get(0).machine()).contains(PlateModel.MACHINE);
        assertThat(first(raised.get(0))).isEqualTo(Cause.HOT_AIR_RECIRCULATING);
    }

    @Test
    void airWarmerAtBothMachinesOfTheRoom_isTheWeather() {
        assertThat(twoMachines(0, 7).findings)
                .filteredOn(finding -> !finding.condition().isCare())
                .isEmpty();
    }
}
