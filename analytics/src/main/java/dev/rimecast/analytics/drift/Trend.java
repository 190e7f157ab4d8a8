package dev.rimecast.analytics.drift;

import dev.rimecast.analytics.statistics.MannKendall;
import dev.rimecast.analytics.statistics.TheilSen;
import java.util.Optional;

/**
 * How daily values go on.
 *
 * @param days how many there are
 * @param line through them, per day, x in days since 1970; empty with fewer than {@value #FEWEST_DAYS}
 * @param probability two-sided, of such a trend in values that have none (Mann-Kendall); 1 without a line
 */
public record Trend(int days, Optional<TheilSen> line, double probability) {
    private static final int FEWEST_DAYS = 4;

    static Trend of(double[] x, double[] y, int n, double confidence) {
        if (n < FEWEST_DAYS) {
            return new Trend(n, Optional.empty(), 1);
        }
        return new Trend(
                n,
                Optional.of(TheilSen.of(x, y, n, confidence)),
                MannKendall.of(y, n).twoSidedProbability());
    }

    /** Whether it is a drift and not a step, at the given probability. */
    public boolean isDrift(double below) {
        return line.isPresent() && probability < below;
    }
}
