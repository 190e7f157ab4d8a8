package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.statistics.MannKendall;
import dev.rimecast.analytics.statistics.TheilSen;
import java.util.Arrays;
import java.util.Optional;

/**
 * How daily values go on.
 *
 * @param days how many there are
 * @param line through them, per day, x in days since 1970; empty with fewer than {@value #FEWEST_DAYS}
 * @param middle mean x of the values: there the line is surest
 * @param probability two-sided, of such a trend in values that have none (Mann-Kendall); 1 without a line
 */
public record Trend(int days, Optional<TheilSen> line, double middle, double probability) {
    private static final int FEWEST_DAYS = 4;
    private static final int FEWEST_DAYS_OF_CORRELATION = 6;
    private static final double MOST_CORRELATION = 0.7;

    /**
     * @param x days, strictly growing
     * @param n how many values are used
     * @param confidence of the slope's interval, 0 to 1
     */
    public static Trend of(double[] x, double[] y, int n, double confidence) {
        if (n < FEWEST_DAYS) {
            return new Trend(n, Optional.empty(), 0, 1);
        }
        TheilSen line = TheilSen.of(x, y, n, confidence, slope -> {
            double correlation = correlation(x, y, n, slope);
            return (1 + correlation) / (1 - correlation);
        });
        double middle = Arrays.stream(x, 0, n).sum() / n;
        return new Trend(n, Optional.of(line), middle, MannKendall.of(y, n).twoSidedProbability());
    }

    /**
     * Of neighbouring days, in what the line leaves; a warm week makes them alike, and the slope less sure than the days are
     * many. What so few values hide of it is put back: about {@code 1 / n}, and of the rest four in {@code n}
     * (to the first order as in Kendall 1954 [from memory]).
     */
    private static double correlation(double[] x, double[] y, int n, double slope) {
        double mean = 0;
        for (int i = 0; i < n; i++) {
            mean += (y[i] - slope * x[i]) / n;
        }
        double squares = 0;
        double products = 0;
        double last = 0;
        for (int i = 0; i < n; i++) {
            double rest = y[i] - slope * x[i] - mean;
            squares += rest * rest;
            products += rest * last;
            last = rest;
        }
        double seen = squares > 0 ? products / squares : 0;
        double whole = n < FEWEST_DAYS_OF_CORRELATION ? 1.0 / n : (n * seen + 1) / (n - 4);
        return StrictMath.max(0, StrictMath.min(MOST_CORRELATION, whole));
    }

    /** Whether it is a drift and not a step, at the given probability. */
    public boolean isDrift(double below) {
        return line.isPresent() && probability < below;
    }
}
