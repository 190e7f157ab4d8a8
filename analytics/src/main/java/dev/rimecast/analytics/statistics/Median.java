package dev.rimecast.analytics.statistics;

import java.util.Arrays;

/** The middle value. */
public final class Median {
    private Median() {}

    /** Median of the first {@code n} values, at least 1; they are not changed. */
    public static double of(double[] values, int n) {
        double[] sorted = Arrays.copyOf(values, n);
        Arrays.sort(sorted);
        return ofSorted(sorted, n);
    }

    static double ofSorted(double[] sorted, int n) {
        if (n < 1) {
            throw new IllegalArgumentException("no values have no median");
        }
        return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    }
}
