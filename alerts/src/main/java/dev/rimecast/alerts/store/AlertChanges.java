package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.AlertLife;
import dev.rimecast.alerts.life.Severity;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.AlertState;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;

/**
 * Writes what happened to an alert: its line in the audit, and its event for whoever tells people or listens. All in the
 * transaction of the change, so that none is without the others.
 */
final class AlertChanges {
    /** Who writes where a rule of the life cycle did. */
    static final String RULES = "rules";

    private AlertChanges() {}

    /**
     * Brings an alert to another state, for a person or a rule.
     *
     * @param what one or two words for the audit; the event's kind is made of it
     */
    static void step(
            Handle handle, StoredAlert before, AlertLife after, Instant at, String who, String what, String why) {
        UUID id = before.finding().id();
        Optional<Severity> seen = StoredAlert.seen(after);
        boolean acknowledged = what.equals("acknowledged");
        boolean again = after.state() == AlertState.UNACKNOWLEDGED;
        handle.createUpdate("""
                update alert set state = :state, seen_stage = :seenStage, seen_priority = :seenPriority,
                    acknowledged_by = case when :acknowledged then :who when :again then null else acknowledged_by end,
                    acknowledged_at = case when :acknowledged then cast(:at as timestamptz) when :again then null
                        else acknowledged_at end,
                    version = version + 1
                where id = :id""")
                .bind("id", id)
                .bind("state", after.state().code())
                .bind("seenStage", seen.map(s -> s.stage().code()))
                .bind("seenPriority", seen.map(s -> s.priority().code()))
                .bind("acknowledged", acknowledged)
                .bind("again", again)
                .bind("who", who)
                .bind("at", at)
                .execute();
        AuditTrail.append(handle, id, at, who, what, why);
        event(handle, id, at, who, what, why);
    }

    /** Gives an alert to somebody, or to nobody; the audit says to whom, and the note. */
    static void assign(Handle handle, UUID id, Instant at, String who, Action.Assign action) {
        handle.createUpdate("update alert set assignee = :assignee, version = version + 1 where id = :id")
                .bind("id", id)
                .bind("assignee", action.assignee())
                .execute();
        String what = action.assignee().isPresent() ? "assigned" : "unassigned";
        String why = Stream.of(action.assignee().map("to "::concat).orElse(""), action.note())
                .filter(part -> !part.isEmpty())
                .collect(Collectors.joining(": "));
        AuditTrail.append(handle, id, at, who, what, why);
        event(handle, id, at, who, what, why);
    }

    /** Writes the event of what has just been written to the row, and brings its case in line. */
    static void event(Handle handle, UUID alert, Instant at, String who, String what, String why) {
        Written row = handle.createQuery("select site, version, announced, case_id from alert where id = :id")
                .bind("id", alert)
                .map((r, context) -> new Written(
                        r.getString(1), r.getLong(2), r.getBoolean(3), Optional.ofNullable(r.getObject(4, UUID.class))))
                .one();
        handle.createUpdate("""
                insert into alert_event (id, kind, site, alert, case_id, version, at, who, announced)
                values (:id, :kind, :site, :alert, :case, :version, :at, :who, :announced) on conflict do nothing""")
                .bind("id", AlertTopic.idOf(alert, row.version()))
                .bind("kind", "alert." + what.replace(' ', '-'))
                .bind("site", row.site())
                .bind("alert", alert)
                .bind("case", row.caseId())
                .bind("version", row.version())
                .bind("at", at)
                .bind("who", who)
                .bind("announced", row.announced())
                .execute();
        AlertTopic.tell(handle, alert, at, who, what, why);
        row.caseId().ifPresent(id -> CaseChanges.refresh(handle, id, at, who));
    }

    private record Written(String site, long version, boolean announced, Optional<UUID> caseId) {}
}
