package dev.rimecast.analytics.making;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/** What a machine had before it stopped is the first thing that may have stopped it. */
final class WentBefore {
    /** What makes a controller stop its machine, the surest first [common practice]. */
    private static final List<Condition> STOPPING = List.of(
            Condition.DRAIN_PUMP_OVERRUN,
            Condition.INCOMPLETE_HARVEST,
            Condition.HIGH_CONDENSING_TEMPERATURE,
            Condition.SENSOR_IMPLAUSIBLE);

    private static final Duration SHORTLY = Duration.ofDays(2);

    private WentBefore() {}

    /**
     * The causes of what was found shortly before, else what is probably wrong by the last cycles; empty where neither says
     * anything.
     */
    static List<ProbableCause> causes(long millis, RuleContext context, Supplier<List<ProbableCause>> byCycles) {
        Instant since = Instant.ofEpochMilli(millis).minus(SHORTLY);
        return STOPPING.stream()
                .map(context::open)
                .flatMap(Optional::stream)
                .filter(found -> !found.raisedAt().isBefore(since))
                .map(found -> found.causes())
                .filter(causes -> !causes.isEmpty())
                .findFirst()
                .orElseGet(byCycles);
    }
}
