package dev.rimecast.analytics.statistics;

import java.util.Arrays;

/**
 * The rank test for a trend of Mann (1945) and Kendall (1975), with the variance corrected for ties and the normal
 * approximation with continuity correction (EPA QA/G-9S, section 4.3.4). Fewer than 4 values have no trend that could
 * be told: z is 0.
 *
 * @param s later values that are higher, less those that are lower
 * @param variance of s while there is no trend
 * @param z standardised s
 */
public record MannKendall(long s, double variance, double z) {

    /** @param values in order of time, the first {@code n} are used */
    public static MannKendall of(double[] values, int n) {
        long s = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                s += Double.compare(values[j], values[i]);
            }
        }
        double variance = (n * (n - 1.0) * (2.0 * n + 5) - tieTerm(values, n)) / 18;
        if (n < 4 || !(variance > 0)) {
            return new MannKendall(s, Math.max(0, variance), 0);
        }
        return new MannKendall(s, variance, (s - Long.signum(s)) / StrictMath.sqrt(variance));
    }

    private static double tieTerm(double[] values, int n) {
        double[] sorted = Arrays.copyOf(values, n);
        Arrays.sort(sorted);
        double sum = 0;
        int start = 0;
        for (int i = 1; i <= n; i++) {
            if (i == n || sorted[i] != sorted[start]) {
                double ties = i - start;
                sum += ties * (ties - 1) * (2 * ties + 5);
                start = i;
            }
        }
        return sum;
    }

    /** Probability of an s at least this far from zero while there is no trend. */
    public double twoSidedProbability() {
        return 2 * Normal.below(-StrictMath.abs(z));
    }
}
