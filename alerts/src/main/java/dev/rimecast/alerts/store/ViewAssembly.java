package dev.rimecast.alerts.store;

import dev.rimecast.alerts.advice.AdviceBook;
import dev.rimecast.alerts.priority.PriorityBook;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Hold;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Puts an alert's view together: the row, its site's name, its advice, its audit. */
final class ViewAssembly {
    private final AdviceBook advice;
    private final PriorityBook priorities;

    ViewAssembly(AdviceBook advice, PriorityBook priorities) {
        this.advice = advice;
        this.priorities = priorities;
    }

    /** A row with the name of its site. */
    record Named(StoredAlert alert, String siteName) {}

    static final String SELECT = "select " + StoredAlert.COLUMNS + ", coalesce(s.name, a.site) as site_name"
            + " from alert a left join site s on s.id = a.site ";

    List<AlertView> views(Handle handle, Collection<Named> rows) {
        List<UUID> ids = rows.stream().map(row -> row.alert().finding().id()).toList();
        Map<UUID, List<AlertView.AuditLine>> audit = AuditTrail.of(handle, ids);
        List<Hold> holds = HoldStore.of(
                handle,
                rows.stream()
                        .filter(row -> row.alert().life().state().isHeld())
                        .map(row -> row.alert().subject())
                        .distinct()
                        .toList());
        Map<String, String> ice = IceStore.words(handle);
        return rows.stream()
                .map(row -> view(
                        row,
                        holdOf(row.alert(), holds),
                        ice,
                        audit.getOrDefault(row.alert().finding().id(), List.of())))
                .toList();
    }

    private static Optional<Hold> holdOf(StoredAlert alert, List<Hold> holds) {
        String condition = alert.finding().condition().code();
        return holds.stream()
                .filter(hold -> hold.kind().state() == alert.life().state()
                        && hold.subject().equals(alert.subject())
                        && hold.condition()
                                .filter(held -> !held.equals(condition))
                                .isEmpty())
                .findFirst();
    }

    private boolean makesLessIce(StoredAlert alert) {
        return alert.finding().machine().isPresent()
                && priorities.makesLessIce(alert.finding().condition())
                && alert.clearedAt().isEmpty();
    }

    private AlertView view(Named row, Optional<Hold> hold, Map<String, String> ice, List<AlertView.AuditLine> audit) {
        StoredAlert alert = row.alert();
        return new AlertView(
                alert.finding(),
                alert.priority(),
                alert.priorityWhy(),
                Optional.ofNullable(ice.get(alert.finding().site())).filter(words -> makesLessIce(alert)),
                row.siteName(),
                alert.life().state(),
                alert.version(),
                alert.clearedAt(),
                alert.acknowledgedBy(),
                alert.acknowledgedAt(),
                alert.assignee(),
                hold,
                alert.caseId(),
                advice.adviceFor(alert.finding(), alert.actBy()),
                List.copyOf(audit));
    }
}
