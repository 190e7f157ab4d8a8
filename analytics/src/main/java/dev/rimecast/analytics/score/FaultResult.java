package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.NamedCause;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What became of one fault.
 *
 * @param deadline when it should have been known at the latest
 * @param first the first alert with a condition that fits, raised at or after the onset, be it in time or not
 * @param ran what the machine did between onset and that alert; empty without cycles or alert
 * @param named the last diagnosis before the deadline, most probable first; empty where there was none
 */
public record FaultResult(
        String machine,
        Cause cause,
        Instant onset,
        Instant deadline,
        Optional<AlertRow> first,
        Optional<Ran> ran,
        List<NamedCause> named) {
    /** A fault that has its deadline within a day is a step, or as good as one. */
    private static final Duration STEP = Duration.ofDays(1);

    static final Duration DAYS_BEFORE = Duration.ofDays(3);
    private static final int CYCLES_ALLOWED = 3;
    private static final double HOURS_ALLOWED = 2;

    /**
     * What the machine did meanwhile.
     *
     * @param cycles begun since the onset
     * @param hours of freeze and harvest
     */
    public record Ran(int cycles, double hours) {}

    public FaultResult {
        named = List.copyOf(named);
    }

    /** Whether it was found before its deadline. */
    public boolean isFound() {
        return first.filter(alert -> alert.raisedAt().isBefore(deadline)).isPresent();
    }

    public boolean isStep() {
        return Duration.between(onset, deadline).compareTo(STEP) <= 0;
    }

    /** Whether it could have been found three days before its deadline. */
    public boolean givesThreeDays() {
        return Duration.between(onset, deadline).compareTo(DAYS_BEFORE) > 0;
    }

    /** Whether it was found three days before its deadline or earlier. */
    public boolean isFoundThreeDaysBefore() {
        return first.filter(alert -> !alert.raisedAt().isAfter(deadline.minus(DAYS_BEFORE)))
                .isPresent();
    }

    /** Whether the alert came within three cycles or two hours of running. */
    public boolean isPrompt() {
        return isFound()
                && ran.filter(r -> r.cycles() <= CYCLES_ALLOWED || r.hours() <= HOURS_ALLOWED)
                        .isPresent();
    }

    /** From onset to the first fitting alert, h. */
    public Optional<Double> delayHours() {
        return first.map(alert -> hours(onset, alert.raisedAt()));
    }

    /** Share of the time from onset to deadline that was left when it was found; empty if it was not in time. */
    public Optional<Double> leadShare() {
        return first.filter(alert -> isFound())
                .map(alert -> hours(alert.raisedAt(), deadline) / hours(onset, deadline));
    }

    private static double hours(Instant from, Instant to) {
        return Duration.between(from, to).toMillis() / 3_600_000.0;
    }
}
