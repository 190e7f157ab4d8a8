package dev.rimecast.alerts.store;

import dev.rimecast.alerts.cases.CaseKey;
import dev.rimecast.alerts.cases.CaseRules;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.telemetry.finding.Finding;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * Which case an alert belongs to, where a person knows better than the rules: these leave it there from then on, and an
 * alert that takes it over as well. Both cases and the alert say who did it and why. The caller holds the site's lock.
 */
final class CaseChoices {
    private CaseChoices() {}

    /** Who put an alert where it is; empty where the rules did. */
    static Optional<String> placedBy(Handle handle, UUID alert) {
        return handle.createQuery("select placed_by from alert where id = :id and placed_by is not null")
                .bind("id", alert)
                .mapTo(String.class)
                .findOne();
    }

    static void keep(Handle handle, UUID alert, String who) {
        handle.createUpdate("update alert set placed_by = :who where id = :id")
                .bind("id", alert)
                .bind("who", who)
                .execute();
    }

    /** Puts an alert into another open case of its site; returns why it can't be, or nothing once it is there. */
    static Optional<String> join(Handle handle, StoredAlert alert, UUID to, Instant at, String who, String why) {
        Optional<String> refused = refused(alert);
        if (refused.isPresent()) {
            return refused;
        }
        if (alert.caseId().equals(Optional.of(to))) {
            return Optional.of("it is in that case already");
        }
        boolean isOpen = CaseQuery.open(handle, alert.finding().site()).stream()
                .anyMatch(candidate -> candidate.id().equals(to));
        if (!isOpen) {
            return Optional.of("no such case is open on its site");
        }
        move(handle, alert, to, at, who, why);
        return Optional.empty();
    }

    /** Takes an alert out of its case into one of its own; returns why it can't be, or nothing once that is done. */
    static Optional<String> part(Handle handle, StoredAlert alert, Instant at, String who, String why) {
        Optional<String> refused = refused(alert);
        if (refused.isPresent()) {
            return refused;
        }
        UUID from = alert.caseId().orElseThrow();
        if (others(handle, from, alert.finding().id()) == 0) {
            return Optional.of("it is the only alert of its case");
        }
        CaseKey key = new CaseKey.OfSubject(alert.subject());
        UUID own = CaseRules.idOf(key, "apart|" + alert.finding().id() + '|' + alert.version());
        CaseStore.open(
                handle,
                own,
                alert.finding().site(),
                key,
                Optional.empty(),
                alert.finding().raisedAt());
        move(handle, alert, own, at, who, why);
        return Optional.empty();
    }

    private static Optional<String> refused(StoredAlert alert) {
        if (alert.caseId().isEmpty()) {
            return Optional.of("planned care is in no case");
        }
        return alert.life().state() == AlertState.NORMAL ? Optional.of("it is over and seen") : Optional.empty();
    }

    private static int others(Handle handle, UUID id, UUID alert) {
        return handle.createQuery("select count(*) from alert where case_id = :id and id <> :alert")
                .bind("id", id)
                .bind("alert", alert)
                .mapTo(Integer.class)
                .one();
    }

    private static void move(Handle handle, StoredAlert alert, UUID to, Instant at, String who, String why) {
        Finding finding = alert.finding();
        UUID from = alert.caseId().orElseThrow();
        String name = finding.machine().map(machine -> machine + ", ").orElse("")
                + finding.condition().code().replace('-', ' ') + ": " + why;
        handle.createUpdate("""
                update alert set case_id = :to, placed_by = :who, version = version + 1 where id = :alert""")
                .bind("to", to)
                .bind("who", who)
                .bind("alert", finding.id())
                .execute();
        handle.createUpdate("update alert_case set latest_at = greatest(latest_at, :at) where id = :id")
                .bind("id", to)
                .bind("at", finding.raisedAt())
                .execute();
        CaseChanges.inheritNotice(handle, from, to);
        CaseChanges.note(handle, to, at, who, "alert joined", name);
        CaseChanges.note(handle, from, at, who, "alert taken out", name);
        CaseChanges.left(handle, from, to, at, who);
        AuditTrail.append(handle, finding.id(), at, who, "put into another case", why);
        AlertChanges.event(handle, finding.id(), at, who, "put into another case", why);
    }
}
