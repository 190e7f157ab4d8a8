package dev.rimecast.alerts.advice;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;

/**
 * By when somebody should have acted. Lead times are common practice of the trade:
 *
 * <table>
 * <caption>From the time at which the present stage and priority were reached</caption>
 * <tr><td>urgent, or stopped</td><td>24 h</td></tr>
 * <tr><td>high, or medium and at the limit</td><td>72 h</td></tr>
 * <tr><td>medium</td><td>14 days</td></tr>
 * <tr><td>low</td><td>at the next planned visit: no date of its own</td></tr>
 * </table>
 *
 * <p>Where the limit can be dated, the early end of its interval counts: for an early finding of medium or low
 * priority in place of the lead time, else whichever comes first.
 */
public final class LatestDate {
    static final Duration URGENT = Duration.ofHours(24);
    static final Duration HIGH = Duration.ofHours(72);
    static final Duration MEDIUM = Duration.ofDays(14);

    private LatestDate() {}

    /**
     * @param since event time at which the finding reached its present stage and priority
     */
    public static Optional<Instant> of(Finding finding, Instant since) {
        return of(finding, finding.priority(), since);
    }

    /**
     * @param priority as it was decided
     * @param since event time at which the alert reached its present stage and priority
     */
    public static Optional<Instant> of(Finding finding, Priority priority, Instant since) {
        Optional<Instant> byClass = leadTime(finding.stage(), priority).map(since::plus);
        Optional<Instant> early = finding.limit().map(Finding.LimitExpected::early);
        if (early.isEmpty()) {
            return byClass;
        }
        boolean canBePlanned = finding.stage() == Stage.EARLY && priority.compareTo(Priority.MEDIUM) >= 0;
        return canBePlanned || byClass.isEmpty() || early.get().isBefore(byClass.get()) ? early : byClass;
    }

    private static Optional<Duration> leadTime(Stage stage, Priority priority) {
        if (stage == Stage.STOPPED) {
            return Optional.of(URGENT);
        }
        Optional<Duration> byPriority = switch (priority) {
            case URGENT -> Optional.of(URGENT);
            case HIGH -> Optional.of(HIGH);
            case MEDIUM -> Optional.of(MEDIUM);
            case LOW -> Optional.empty();
        };
        boolean sooner = stage == Stage.AT_LIMIT && priority == Priority.MEDIUM;
        return sooner ? Optional.of(HIGH) : byPriority;
    }
}
