package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Who closes a site for some days switches all of its machines off, and tells nobody [common practice]. */
class SwitchedOffTogetherTest {
    private static final double HOUR = 3600;
    private static final String OTHER = "ice-2";

    private static PlateModel routine() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);
        for (int day = 0; day < 10; day++) {
            plate.cycles(20).rest(HOUR / 2, Phase.IDLE).cycles(20).rest(8 * HOUR, Phase.IDLE);
        }
        return plate;
    }

    private static List<Finding> said(PlateModel one, PlateModel two) {
        List<Reading> readings = new ArrayList<>(one.readings);
        readings.addAll(two.readingsOf(OTHER));
        readings.sort(Comparator.comparingLong(Reading::timeMillis));
        return new Scene(PlateModel.MACHINE, OTHER).readings(readings).of(Condition.NOT_MAKING_ICE);
    }

    @Test
    void allMachinesOfASite_areSaidOnce_asClosed_andTheLastToStartIsWaitedFor() {
        PlateModel one = routine().rest(60 * HOUR, Phase.OFF).cycles(20);
        PlateModel two = routine().rest(61 * HOUR, Phase.OFF).cycles(20);

        List<Finding> found = said(one, two);

        assertThat(found).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(found.get(0).machine()).contains(PlateModel.MACHINE);
        assertThat(found.get(0).priority()).isEqualTo(Priority.LOW);
        assertThat(found.get(0).summary()).contains("seems to be closed");
    }

    @Test
    void oneOfTwo_isMissedAsItWas() {
        PlateModel one = routine().rest(30 * HOUR, Phase.OFF);
        PlateModel two = routine().cycles(70);

        assertThat(said(one, two)).first().satisfies(found -> {
            assertThat(found.machine()).contains(PlateModel.MACHINE);
            assertThat(found.priority()).isEqualTo(Priority.MEDIUM);
        });
    }

    @Test
    void whoStaysOffWhenTheOthersAreBack_isSaid() {
        PlateModel one = routine().rest(60 * HOUR, Phase.OFF).cycles(40);
        PlateModel two = routine().rest(75 * HOUR, Phase.OFF);

        assertThat(said(one, two))
                .anySatisfy(found -> assertThat(found.machine()).contains(OTHER));
    }
}
