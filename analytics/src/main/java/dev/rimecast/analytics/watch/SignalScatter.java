package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.diagnosis.DrainSignals;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * By how much a machine's longest drain level signals differ from cycle to cycle, beside what they always did: mean distance
 * of a logarithm from the middle one of itself and its neighbours. A step or a trend has no such distance.
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
        beforeLast = last;
        last = log;
    }

    private static float middle(float a, float b, float c) {
        return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    }

    DrainSignals signals() {
        if (cycles < LEARNED_CYCLES) {
            return DrainSignals.EITHER;
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
    }

    static SignalScatter restore(StateReader in) {
        SignalScatter scatter = new SignalScatter();
        scatter.cycles = in.wholeInt();
        scatter.last = in.real32();
        scatter.beforeLast = in.real32();
        scatter.usual = in.real32();
        scatter.now = in.real32();
        return scatter;
    }
}
