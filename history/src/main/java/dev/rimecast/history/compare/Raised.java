package dev.rimecast.history.compare;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * An alert as it stood last.
 *
 * @param clearedAt empty while it stands
 * @param cause the last that was most probable, by its code; empty where nothing could be said
 */
public record Raised(
        UUID id,
        String site,
        Optional<String> machine,
        Optional<String> gateway,
        Condition condition,
        Priority priority,
        Instant raisedAt,
        Optional<Instant> clearedAt,
        String cause,
        String summary) {

    /** Alerts of revisions that are in order, by the order in which they were raised. */
    public static List<Raised> of(Collection<Finding> revisions) {
        Map<UUID, Raised> alerts = new LinkedHashMap<>();
        revisions.forEach(revision -> take(revision, alerts));
        return List.copyOf(alerts.values());
    }

    /** Takes the next revision in. */
    public static void take(Finding revision, Map<UUID, Raised> alerts) {
        Raised before = alerts.get(revision.id());
        boolean isOver = revision.step() == Finding.Step.CLEARED;
        String cause = revision.probableCause()
                .map(probable -> probable.cause().code())
                .orElse(before == null ? "" : before.cause());
        boolean isWorded = !isOver && !revision.summary().isEmpty();
        alerts.put(
                revision.id(),
                new Raised(
                        revision.id(),
                        revision.site(),
                        revision.machine(),
                        revision.gateway(),
                        revision.condition(),
                        isOver && before != null ? before.priority() : revision.priority(),
                        revision.raisedAt(),
                        isOver ? Optional.of(revision.at()) : Optional.empty(),
                        cause,
                        isWorded || before == null ? revision.summary() : before.summary()));
    }

    /** What it is about: there is one at a time of each. */
    String about() {
        return site + '|' + machine.orElse("") + '|' + gateway.orElse("") + '|' + condition.code();
    }

    boolean standsWith(Raised other) {
        return !raisedAt.isAfter(other.clearedAt.orElse(Instant.MAX))
                && !other.raisedAt.isAfter(clearedAt.orElse(Instant.MAX));
    }
}
