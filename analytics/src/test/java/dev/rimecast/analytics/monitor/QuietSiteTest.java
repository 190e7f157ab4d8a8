package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Two machines of a busy site that rest four hours a night; then the bin of one is said to be full for a day. */
class QuietSiteTest {
    private static final double HOUR = 3600;
    private static final String NEIGHBOUR = "ice-2";

    private final PlateModel one = new PlateModel(60, 0.2, true, true, false, 1);
    private final PlateModel other = new PlateModel(60, 0.2, true, true, false, 1);

    private Scene watch() {
        List<Reading> both = new ArrayList<>(one.readings);
        both.addAll(other.readingsOf(NEIGHBOUR));
        both.sort(Comparator.comparingLong(Reading::timeMillis));
        return new Scene(PlateModel.MACHINE, NEIGHBOUR).readings(both);
    }

    private void busyDays() {
        for (int day = 0; day < 10; day++) {
            one.cycles(50).rest(4 * HOUR, Phase.IDLE);
            other.cycles(50).rest(4 * HOUR, Phase.IDLE);
        }
    }

    /** A day on which the site is closed and nobody has told: the neighbour makes a batch when enough has melted. */
    @Test
    void neighbourThatFillsUpWhatMelts_makesNobodyTakeIce() {
        busyDays();
        one.rest(28 * HOUR, Phase.IDLE);
        for (int i = 0; i < 3; i++) {
            other.rest(9 * HOUR, Phase.IDLE).cycles(1);
        }

        assertThat(watch().of(Condition.BIN_FULL_IMPLAUSIBLE)).isEmpty();
    }

    /** An open day on which the neighbour's bin is filled up twice an hour, by one batch each time. */
    @Test
    void neighbourThatFillsUpAllDay_showsThatIceIsTaken() {
        busyDays();
        long began = one.now();
        one.rest(28 * HOUR, Phase.IDLE);
        for (int i = 0; i < 27; i++) {
            other.cycles(2).rest(HOUR / 4, Phase.IDLE);
        }

        assertThat(watch().of(Condition.BIN_FULL_IMPLAUSIBLE))
                .singleElement()
                .satisfies(finding -> assertThat((finding.at().toEpochMilli() - began) / 3_600_000.0)
                        .isBetween(8.0, 18.0));
    }
}
