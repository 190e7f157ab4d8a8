package dev.rimecast.analytics.statistics;

import java.util.Arrays;
import java.util.function.DoubleUnaryOperator;

/**
 * The robust line of Theil (1950) and Sen (1968): the median of all pairwise slopes, with Sen's interval from the
 * variance of Kendall's s (Gilbert 1987, section 16.4.2).
 *
 * @param slope units of y per unit of x
 * @param intercept y at x = 0: median of {@code y - slope x}
 * @param low lower end of the slope's interval
 * @param high upper end of the slope's interval
 */
public record TheilSen(double slope, double intercept, double low, double high) {

    /**
     * @param x strictly growing
     * @param n how many values are used, at least 2
     * @param confidence of the interval, 0 to 1
     */
    public static TheilSen of(double[] x, double[] y, int n, double confidence) {
        return of(x, y, n, confidence, 1);
    }

    /**
     * The same where neighbouring values are alike.
     *
     * @param varianceFactor by how much that raises the variance of Kendall's s, at least 1
     */
    public static TheilSen of(double[] x, double[] y, int n, double confidence, double varianceFactor) {
        return of(x, y, n, confidence, slope -> varianceFactor);
    }

    /** The same where that factor is known from what the line leaves; it is asked for by the slope. */
    public static TheilSen of(double[] x, double[] y, int n, double confidence, DoubleUnaryOperator varianceFactor) {
        if (n < 2) {
            throw new IllegalArgumentException("a slope needs two points, had " + n);
        }
        double[] slopes = new double[n * (n - 1) / 2];
        int count = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                slopes[count++] = (y[j] - y[i]) / (x[j] - x[i]);
            }
        }
        Arrays.sort(slopes);
        double slope = Median.ofSorted(slopes, count);
        double[] rest = new double[n];
        for (int i = 0; i < n; i++) {
            rest[i] = y[i] - slope * x[i];
        }
        double reach = Normal.quantile(0.5 + confidence / 2)
                * StrictMath.sqrt(MannKendall.of(y, n).variance() * varianceFactor.applyAsDouble(slope));
        int below = (int) StrictMath.floor((count - reach) / 2) - 1;
        int above = (int) StrictMath.ceil((count + reach) / 2);
        return new TheilSen(
                slope,
                Median.of(rest, n),
                slopes[Math.max(0, Math.min(count - 1, below))],
                slopes[Math.min(count - 1, Math.max(0, above))]);
    }
}
