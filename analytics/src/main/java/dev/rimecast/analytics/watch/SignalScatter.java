package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.diagnosis.DrainSignals;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;

/**
 * By how much a machine's longest drain level signals differ from cycle to cycle, beside what they always did. Of the last
 * {@value #LATELY}, those of a drain that is blocked are all longer than they used to be; where dirt holds them now and then,
 * some are as short as ever, again and again. Where that does not tell: the mean distance of a logarithm from the middle one of
 * itself and its neighbours. A step or a trend has no such distance.
 */
final class SignalScatter {
    private static final int LEARNED_CYCLES = 40;
    private static final int USUAL_CYCLES = 400;
    private static final double NOW_GAIN = 0.06;
    /** A single wild signal does not make the others differ. */
    private static final double MOST_APART = 0.5;
    /** Signals are timed to tenths of a second: a smaller difference says nothing. */
    private static final double LEAST = 0.05;

    private static final double UNEVEN_TIMES = 2.4;
    private static final double EVEN_TIMES = 1.8;

    private static final int LATELY = 10;
    /** What is longer than this share of a signal counts as long, a tenth. */
    private static final double LONG = 0.1;

    private static final double ALL_LONG_SHARE = 0.5;
    private static final double AS_EVER_SHARE = 0.35;
    private static final double FAR_APART_TIMES = 4.5;
    private static final double LEAST_USUAL = 0.04;
    /** Times that signals go from long to short or back; a step has one. */
    private static final int TURNS = 4;

    private static final double LEVEL_GAIN = 0.005;
    private static final double LEVEL_CLIP = 0.1;
    private static final double PER_UNIT = 1000;
    /** From this layout of a machine's state on it has its last signals. */
    private static final int WITH_LATELY = 11;

    private final short[] lately = new short[LATELY];
    private int latelyCount;
    private float level = Float.NaN;
    private float last = Float.NaN;
    private float beforeLast = Float.NaN;
    private float usual;
    private float now;
    private int cycles;

    /**
     * Takes the longest level signal of a cycle.
     *
     * @param isOpen whether a finding about the drain is open: then nothing is learned
     */
    void cycle(double seconds, boolean isOpen) {
        float log = (float) StrictMath.log(StrictMath.max(0.1, seconds));
        if (!Float.isNaN(beforeLast)) {
            double apart = StrictMath.min(MOST_APART, StrictMath.abs(last - middle(beforeLast, last, log)));
            now += (float) (NOW_GAIN * (apart - now));
            if (!isOpen) {
                cycles = Math.min(USUAL_CYCLES, cycles + 1);
                usual += (float) ((apart - usual) / cycles);
            }
        }
        remember(log, isOpen);
        beforeLast = last;
        last = log;
    }

    private void remember(float log, boolean isOpen) {
        if (Float.isNaN(level)) {
            level = log;
        }
        if (!isOpen) {
            double gain = StrictMath.max(LEVEL_GAIN, 1.0 / (1 + cycles));
            level += (float) (gain * StrictMath.max(-LEVEL_CLIP, StrictMath.min(LEVEL_CLIP, log - level)));
        }
        System.arraycopy(lately, 1, lately, 0, LATELY - 1);
        lately[LATELY - 1] = (short) Math.round(log * PER_UNIT);
        latelyCount = Math.min(LATELY, latelyCount + 1);
    }

    /** By the shortest and the longest of the last signals, the outermost of each left out. */
    private DrainSignals byLength() {
        short[] sorted = lately.clone();
        Arrays.sort(sorted);
        double low = sorted[1] / PER_UNIT - level;
        double high = sorted[LATELY - 2] / PER_UNIT - level;
        if (high < LONG) {
            return DrainSignals.EITHER;
        }
        if (low > ALL_LONG_SHARE * high) {
            return DrainSignals.EVEN;
        }
        boolean isFarApart = high - low > FAR_APART_TIMES * StrictMath.max(LEAST_USUAL, usual);
        boolean isUneven = low < AS_EVER_SHARE * high && isFarApart && turns((low + high) / 2) >= TURNS;
        return isUneven ? DrainSignals.UNEVEN : DrainSignals.EITHER;
    }

    private int turns(double middle) {
        int turns = 0;
        for (int i = 1; i < LATELY; i++) {
            boolean wasLong = lately[i - 1] / PER_UNIT - level > middle;
            boolean isLong = lately[i] / PER_UNIT - level > middle;
            turns += wasLong == isLong ? 0 : 1;
        }
        return turns;
    }

    private static float middle(float a, float b, float c) {
        return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    }

    DrainSignals signals() {
        if (cycles < LEARNED_CYCLES) {
            return DrainSignals.EITHER;
        }
        DrainSignals byLength = latelyCount < LATELY ? DrainSignals.EITHER : byLength();
        if (byLength != DrainSignals.EITHER) {
            return byLength;
        }
        double times = now / StrictMath.max(LEAST, usual);
        if (times >= UNEVEN_TIMES) {
            return DrainSignals.UNEVEN;
        }
        return times <= EVEN_TIMES ? DrainSignals.EVEN : DrainSignals.EITHER;
    }

    void save(StateWriter out) {
        out.whole(cycles);
        out.real32(last).real32(beforeLast).real32(usual).real32(now);
        out.real32(level).u8(latelyCount);
        for (int i = LATELY - latelyCount; i < LATELY; i++) {
            out.short16(lately[i]);
        }
    }

    static SignalScatter restore(StateReader in) {
        SignalScatter scatter = new SignalScatter();
        scatter.cycles = in.wholeInt();
        scatter.last = in.real32();
        scatter.beforeLast = in.real32();
        scatter.usual = in.real32();
        scatter.now = in.real32();
        if (in.hasLayout(WITH_LATELY)) {
            scatter.level = in.real32();
            scatter.latelyCount = in.u8();
            for (int i = LATELY - scatter.latelyCount; i < LATELY; i++) {
                scatter.lately[i] = in.short16();
            }
        }
        return scatter;
    }
}
