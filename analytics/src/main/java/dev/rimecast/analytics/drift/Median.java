package dev.rimecast.analytics.drift;

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

    /** The same for a ring of {@code float}. */
    public static double of(float[] values, int n) {
        float[] sorted = Arrays.copyOf(values, n);
        Arrays.sort(sorted);
        return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + (double) sorted[n / 2]) / 2;
    }

    static double ofSorted(double[] sorted, int n) {
        if (n < 1) {
            throw new IllegalArgumentException("no values have no median");
        }
        return n % 2 == 1 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2;
    }
}
