package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/**
 * A machine that is read once a minute, and that its high-pressure cut-out stops at 65 °C [common practice: it acts at once]. The
 * condenser climbs by 12 K a minute and falls by 4, so that one reading in a whole trip is at the limit.
 */
class CondensingAtItsLimitTest {
    private static List<Finding> condenserReads(boolean isStopping, double... celsius) {
        PlateModel plate = new PlateModel(60, 0.2, true, false, false, 1).cycles(30);
        List<Reading> readings = plate.cycles(1).readings;
        int[] condenser = IntStream.range(0, readings.size())
                .filter(i -> readings.get(i).channel() == Channel.CONDENSER_TEMPERATURE)
                .toArray();
        int from = condenser.length - celsius.length;
        for (int i = 0; i < celsius.length; i++) {
            Reading was = readings.get(condenser[from + i]);
            readings.set(
                    condenser[from + i], Reading.number(was.machine(), was.channel(), was.timeMillis(), celsius[i]));
        }
        Scene scene =
                isStopping ? new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord() : new Scene(PlateModel.MACHINE);
        return scene.readings(readings).of(Condition.HIGH_CONDENSING_TEMPERATURE);
    }

    @Test
    void oneReadingAtTheLimit_andTheNextNearIt_isSaidWithTheHighest() {
        List<Finding> found = condenserReads(false, 41, 53.5, 65.5, 61, 57, 53);

        assertThat(found).hasSize(1);
        assertThat(found.get(0).summary()).contains("65.5 °C").contains("65 °C");
        assertThat(condenserReads(true, 41, 53.5, 65.5, 61, 57, 53)).isEqualTo(found);
    }

    @Test
    void oneReadingAtTheLimit_andTheOneBeforeNearIt_isSaid() {
        assertThat(condenserReads(false, 48, 60, 66, 50, 45)).hasSize(1);
    }

    /** A machine that is made for air up to 40 °C needs no broken fan to get too hot in more. */
    @Test
    void atTheLimitInAirThatIsTooHot_theRoomIsNamedAtOnce() {
        assertThat(causeIn(41)).isEqualTo(Cause.ROOM_TOO_HOT);
        assertThat(causeIn(37)).isEqualTo(Cause.FAN_FAILED);
    }

    private static Cause causeIn(double ambient) {
        PlateModel plate = new PlateModel(60, 0.2, true, false, false, 1).cycles(30);
        plate.ambientCelsius = ambient;
        plate.splitKelvin = 70 - ambient;
        List<Finding> found = new Scene(PlateModel.MACHINE)
                .readings(plate.freeze(600).readings)
                .of(Condition.HIGH_CONDENSING_TEMPERATURE);
        assertThat(found).hasSize(1);
        return found.get(0).probableCause().orElseThrow().cause();
    }

    @Test
    void aSingleWildReading_isNot() {
        assertThat(condenserReads(false, 41, 41.5, 70, 41.5, 41)).isEmpty();
    }

    @Test
    void nearTheLimitButNeverAtIt_isNot() {
        assertThat(condenserReads(false, 52, 62, 64.5, 63, 59)).isEmpty();
    }

    @Test
    void nearItMuchLater_isNoWitness() {
        assertThat(condenserReads(false, 41, 70, 41, 42, 45, 52, 60, 62)).isEmpty();
    }
}
