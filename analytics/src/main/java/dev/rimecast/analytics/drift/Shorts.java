package dev.rimecast.analytics.drift;

import java.util.Arrays;

/**
 * Residuals as thousandths in 16 bits, in memory as in the state, since there are many of them: 0.001 K or 0.1 %, up to
 * 32 K or a factor of 10^14.
 */
final class Shorts {
    private static final double PER_UNIT = 1000;
    /** Stands for no value. */
    static final short NONE = Short.MIN_VALUE;

    private Shorts() {}

    static short of(double value) {
        return (short) StrictMath.max(-Short.MAX_VALUE, StrictMath.min(Short.MAX_VALUE, Math.round(value * PER_UNIT)));
    }

    static double value(short coded) {
        return coded / PER_UNIT;
    }

    /** Median of values {@code from} to before {@code to}, at least one; they are not changed. */
    static double median(short[] coded, int from, int to) {
        int n = to - from;
        if (n < 1) {
            throw new IllegalArgumentException("no values have no median");
        }
        short[] sorted = Arrays.copyOfRange(coded, from, to);
        Arrays.sort(sorted);
        return n % 2 == 1 ? value(sorted[n / 2]) : (value(sorted[n / 2 - 1]) + value(sorted[n / 2])) / 2;
    }
}
