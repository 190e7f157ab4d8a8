package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * Lengths whose turns lie somewhere between two readings. What is only known to lie within bounds 2a apart has the variance a²/3 (JCGM
 * 100:2008, GUM, 4.3.7), and the variances of two turns add.
 */
class BetweenReadingsTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final Conditions PLACE = new Conditions(24, 0.3, "sensor", 15, 0.3, "sensor");
    private static final int APART = 60;

    private long now = 1_777_800_000_000L;

    private static RawCycle read(int apartSeconds) {
        OptionalDouble none = OptionalDouble.empty();
        return new RawCycle(
                0,
                1_260_000,
                none,
                OptionalDouble.of(1020),
                OptionalDouble.of(240),
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                OptionalInt.empty(),
                none,
                none,
                none,
                none,
                true,
                apartSeconds,
                5);
    }

    @Test
    void standardDeviation_isThatOfTheGuidesRectangle() {
        double halfStep = APART / 2.0;
        assertThat(CycleFeatures.ofReadings(Feature.HARVEST, read(APART)))
                .isCloseTo(Math.sqrt(2 * halfStep * halfStep / 3), within(1e-9));
        assertThat(CycleFeatures.ofReadings(Feature.PULL_DOWN, read(APART)))
                .isCloseTo(Math.sqrt(halfStep * halfStep / 3), within(1e-9));
        assertThat(CycleFeatures.ofReadings(Feature.FREEZE, read(0))).isZero();
        assertThat(CycleFeatures.ofReadings(Feature.SPLIT, read(APART))).isZero();
    }

    /** A harvest of 247 s, read each minute: 240 s mostly, 300 s now and then, and three times in a row once in a while. */
    private Watched minuteByMinute(double ofReadings) {
        Watched harvest = new Watched(Feature.HARVEST, POLICY);
        Random random = new Random(3);
        for (int i = 0; i < 600; i++) {
            take(harvest, i % 7 != 0 && random.nextInt(6) == 0 ? 300 : 240, ofReadings);
        }
        for (int i = 0; i < 6; i++) {
            take(harvest, 240, ofReadings);
        }
        return harvest;
    }

    private void take(Watched watched, double seconds, double ofReadings) {
        watched.take(new Watched.Measured(seconds, ofReadings), PLACE, now, false, POLICY);
        now += 21 * 60_000L;
    }

    @Test
    void threeHarvestsOfOneStepMore_areHowTheReadingsFell() {
        double ofReadings = CycleFeatures.ofReadings(Feature.HARVEST, read(APART));
        Watched read = minuteByMinute(ofReadings);
        Watched timed = minuteByMinute(0);
        for (int i = 0; i < 3; i++) {
            take(read, 300, ofReadings);
            take(timed, 300, 0);
        }
        assertThat(timed.isAlarm(true, false, POLICY))
                .as("a machine that measures its harvests itself")
                .isTrue();
        assertThat(read.isAlarm(true, false, POLICY)).isFalse();
    }

    @Test
    void harvestsOfThreeStepsMore_areAStep() {
        double ofReadings = CycleFeatures.ofReadings(Feature.HARVEST, read(APART));
        Watched harvest = minuteByMinute(ofReadings);
        for (int i = 0; i < 3; i++) {
            take(harvest, 420, ofReadings);
        }
        assertThat(harvest.isAlarm(true, false, POLICY)).isTrue();
    }

    @Test
    void freezeThatGrowsByAThird_isFoundThroughCoarseReadings() {
        double ofReadings = CycleFeatures.ofReadings(Feature.FREEZE, read(APART));
        Watched freeze = new Watched(Feature.FREEZE, POLICY);
        Random random = new Random(4);
        for (int i = 0; i < 600; i++) {
            take(freeze, 60 * Math.floor((1000 + 60 * random.nextDouble()) / 60), ofReadings);
        }
        int cycles = 0;
        while (!freeze.isAlarm(true, false, POLICY) && cycles < 400) {
            cycles++;
            double length = 1000 * (1 + cycles / 1200.0);
            take(freeze, 60 * Math.floor((length + 60 * random.nextDouble()) / 60), ofReadings);
        }
        assertThat(cycles)
                .as("cycles until it is said; it is 8 %% longer after a hundred")
                .isLessThan(120);
    }
}
