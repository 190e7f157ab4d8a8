package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.drift.Trend;
import dev.rimecast.analytics.statistics.TheilSen;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import java.time.Instant;
import java.util.Optional;

/**
 * When a residual that drifts reaches its limit, prolonging the robust line through its days.
 *
 * <p>Early: the steepest slope of the 80 % interval, and the warmest day of the weather that is expected, or, where none is known, that of the last two weeks again. Likely: the median
 * slope from where it stands now, and that warmest day. Late: the gentlest slope, and ordinary days. The outer lines turn about the
 * middle of the days, where the line is surest, so that they differ in where the machine stands now, too. Words of ISO 13381-1: the date is the estimated
 * time to failure, the limit the trip limit, the two ends its confidence level. Not datable, and then empty: no rising line
 * of at least four days, a gentlest slope that does not rise, or an interval wider than the horizon.
 */
final class Forecast {
    /** Both ends together: an 80 % interval. */
    static final double CONFIDENCE = 0.8;

    private static final double DAY_MILLIS = 86_400_000;
    /** A day's value stands for its middle. */
    private static final double MIDDAY = 0.5;

    private Forecast() {}

    /**
     * @param level where the residual stands now
     * @param onWarmestDay the residual at which the limit is reached on the warmest day
     * @param onUsualDay the same on an ordinary day
     */
    static Optional<LimitExpected> of(
            Trend trend, double level, double onWarmestDay, double onUsualDay, long millis, double horizonDays) {
        if (trend.line().isEmpty() || !Double.isFinite(onWarmestDay) || !Double.isFinite(onUsualDay)) {
            return Optional.empty();
        }
        TheilSen line = trend.line().get();
        if (!(line.slope() > 0 && line.low() > 0)) {
            return Optional.empty();
        }
        double sinceMiddle = millis / DAY_MILLIS - (trend.middle() + MIDDAY);
        double atMiddle = line.intercept() + line.slope() * trend.middle();
        double likely = days(onWarmestDay - level, line.slope());
        double early = StrictMath.min(likely, days(onWarmestDay - (atMiddle + line.high() * sinceMiddle), line.high()));
        double late = StrictMath.max(
                likely,
                days(StrictMath.max(onUsualDay, onWarmestDay) - (atMiddle + line.low() * sinceMiddle), line.low()));
        if (likely > horizonDays || late - early > horizonDays) {
            return Optional.empty();
        }
        return Optional.of(new LimitExpected(after(millis, likely), after(millis, early), after(millis, late)));
    }

    private static double days(double way, double slope) {
        return StrictMath.max(0, way) / slope;
    }

    /** A date is no surer than a minute. */
    private static Instant after(long millis, double days) {
        long minutes = Math.round((millis + days * DAY_MILLIS) / 60_000);
        return Instant.ofEpochMilli(minutes * 60_000);
    }
}
