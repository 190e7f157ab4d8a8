package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Boxes before a grille are there at once and gone at once; dirt is neither [common practice]. */
class StepThatPassesTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final Conditions PLACE = new Conditions(24, 0.3, "sensor", 15, 0.3, "sensor");
    private static final double USUAL = 15;
    private static final int SOUND = 900;

    private final Random random = new Random(5);
    private final Watched split = new Watched(Feature.SPLIT, POLICY);
    private long now = 1_777_800_000_000L;
    private boolean isOpen;

    private void cycle(double kelvin) {
        now += 30 * 60_000L;
        split.take(USUAL + kelvin + 0.5 * random.nextGaussian(), PLACE, now, isOpen, POLICY);
    }

    private void cycles(int count, double kelvin) {
        for (int i = 0; i < count; i++) {
            cycle(kelvin);
        }
    }

    /** Cycles until it is told of, and when that was. */
    private long raisedAt() {
        split.raise(POLICY);
        isOpen = true;
        return now;
    }

    private boolean isOver(long raisedAt) {
        return split.isStepOver(true, raisedAt, POLICY);
    }

    @Test
    void boxesForHours_areOverAfterADozenCyclesWithoutThem() {
        cycles(SOUND, 0);
        cycles(12, 8);
        assertThat(split.isAlarm(true, false, POLICY)).isTrue();
        long raisedAt = raisedAt();
        cycles(2, 8);
        cycles(8, 0);
        assertThat(isOver(raisedAt)).as("eight cycles").isFalse();
        cycles(7, 0);
        assertThat(isOver(raisedAt)).isTrue();
    }

    /** One group of good cycles among bad ones is no end. */
    @Test
    void halfOfTheCyclesStillBad_isNotOver() {
        cycles(SOUND, 0);
        cycles(12, 8);
        long raisedAt = raisedAt();
        for (int i = 0; i < 4; i++) {
            cycles(8, 0);
            cycles(4, 8);
            assertThat(isOver(raisedAt)).isFalse();
        }
    }

    @Test
    void dirtThatHasGrownForWeeks_isNotOverSoSoon() {
        cycles(SOUND, 0);
        double grown = 0;
        for (int i = 0; i < 3000 && !split.isAlarm(true, false, POLICY); i++) {
            grown = i * 0.006;
            cycle(grown);
        }
        assertThat(split.isAlarm(true, false, POLICY)).isTrue();
        long raisedAt = raisedAt();
        cycles(4, grown);
        cycles(14, 0);
        assertThat(isOver(raisedAt)).isFalse();
        assertThat(split.isOver(true, 12, POLICY))
                .as("after two days it may be")
                .isTrue();
    }

    @Test
    void changeOfWhichTheLastCycleShowsNothing_isGoing() {
        cycles(SOUND, 0);
        cycles(12, 8);
        raisedAt();
        assertThat(split.isGoing(true, POLICY)).isFalse();
        cycle(0);
        assertThat(split.isGoing(true, POLICY)).isTrue();
    }
}
