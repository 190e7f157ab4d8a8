package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
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

    private boolean isTheSame;
    private long now = 1_777_800_000_000L;

    private static RawCycle read(int apartSeconds) {
        OptionalDouble none = OptionalDouble.empty();
        return new RawCycle(
                0,
                1_260_000,
                OptionalDouble.of(150),
                OptionalDouble.of(1020),
                OptionalDouble.of(240),
                none,
                none,
                none,
                OptionalDouble.of(-18),
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
                APART,
                5);
    }

    @Test
    void standardDeviation_isThatOfTheGuidesRectangle() {
        double halfStep = APART / 2.0;
        assertThat(CycleFeatures.ofReadings(Feature.HARVEST, read(APART)))
                .isCloseTo(Math.sqrt(2 * halfStep * halfStep / 3), within(1e-9));
        assertThat(CycleFeatures.ofReadings(Feature.PULL_DOWN, read(APART))).isZero();
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
        watched.take(new Watched.Measured(seconds, ofReadings, isTheSame), PLACE, now, false, POLICY);
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

    /** A clock ends each cycle after 28 minutes, 14 readings: each day's run has an error of its own, and none that its cycles could average out. */
    @Test
    void lengthsOfAClocksCycles_areNoBetterKnownThanOneOfThem() {
        double ofReadings = CycleFeatures.ofReadings(Feature.FREEZE, read(2 * APART));
        assertThat(isSaidAfterARun(ofReadings, true)).isFalse();
        assertThat(isSaidAfterARun(ofReadings, false)).isTrue();
    }

    /** Forty runs of twenty cycles, each with its own small error, then one of two hundred whose error is large: 80 s of 1,330. */
    private boolean isSaidAfterARun(double ofReadings, boolean isTheSame) {
        this.isTheSame = isTheSame;
        Watched freeze = new Watched(Feature.FREEZE, POLICY);
        Random random = new Random(8);
        for (int run = 0; run < 40; run++) {
            double length = 1330 + 10 * (2 * random.nextDouble() - 1);
            for (int i = 0; i < 20; i++) {
                take(freeze, length + random.nextGaussian(), ofReadings);
            }
        }
        for (int i = 0; i < 200; i++) {
            take(freeze, 1410 + random.nextGaussian(), ofReadings);
        }
        return freeze.isAlarm(true, false, POLICY);
    }

    /** 1.6 times the mean below 0 °C, of a plate that falls to -18 °C in 870 s after its pull-down. */
    @Test
    void endOfAFreeze_isReadUpToAStepTooWarm() {
        double kelvinPerSecond = 1.6 * 18 / (1020 - 150);
        assertThat(CycleFeatures.ofReadings(Feature.EVAPORATOR_END, read(APART)))
                .isCloseTo(APART * kelvinPerSecond / Math.sqrt(12), within(1e-9));
    }

    @Test
    void errorIsTheSame_whereCyclesAreReadAsEquallyLong_untilOneIsNot() {
        EvenCycles cycles = seen(new EvenCycles(), 4);
        assertThat(cycles.isErrorTheSame(Feature.FREEZE)).isTrue();
        assertThat(cycles.isErrorTheSame(Feature.EVAPORATOR_END)).isFalse();
        seen(cycles, 5);
        assertThat(cycles.isErrorTheSame(Feature.EVAPORATOR_END)).isTrue();

        StateWriter out = new StateWriter();
        cycles.save(out);
        EvenCycles restored = EvenCycles.restore(new StateReader(out.toBytes()));
        assertThat(restored.isErrorTheSame(Feature.EVAPORATOR_END)).isTrue();
        restored.see(longer());
        assertThat(restored.isErrorTheSame(Feature.FREEZE)).isFalse();
        assertThat(restored.isErrorTheSame(Feature.EVAPORATOR_END))
                .as("its harvest was longer, not its freeze")
                .isTrue();
    }

    @Test
    void errorOfWhatTheMachineTimes_isNone() {
        EvenCycles cycles = new EvenCycles();
        for (int i = 0; i < 10; i++) {
            cycles.see(read(0));
        }
        assertThat(cycles.isErrorTheSame(Feature.FREEZE)).isFalse();
        assertThat(cycles.isErrorTheSame(Feature.EVAPORATOR_END))
                .as("its plate is read all the same")
                .isTrue();
    }

    @Test
    void cyclesReadEachTwoMinutes_areEvenWithinAMinute() {
        EvenCycles coarse = new EvenCycles();
        for (int i = 0; i < 6; i++) {
            coarse.see(lasting(1_680_000 + 50_000 * (i % 2), 2 * APART));
        }
        assertThat(coarse.isErrorTheSame(Feature.FREEZE)).isTrue();

        EvenCycles fine = new EvenCycles();
        for (int i = 0; i < 6; i++) {
            fine.see(lasting(1_680_000 + 50_000 * (i % 2), APART));
        }
        assertThat(fine.isErrorTheSame(Feature.FREEZE)).isFalse();
    }

    private static EvenCycles seen(EvenCycles cycles, int times) {
        for (int i = 0; i < times; i++) {
            cycles.see(read(APART));
        }
        return cycles;
    }

    private static RawCycle longer() {
        return lasting(1_320_000, APART);
    }

    private static RawCycle lasting(long millis, int apartSeconds) {
        RawCycle raw = read(apartSeconds);
        OptionalDouble none = OptionalDouble.empty();
        return new RawCycle(
                raw.freezeStartMillis(),
                millis,
                none,
                raw.freezeSeconds(),
                raw.harvestSeconds(),
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
                APART,
                5);
    }
}
