package dev.rimecast.alerts.store;

import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.alerts.life.Circumstance;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.silence.Silence;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.SiteIce;
import dev.rimecast.telemetry.finding.Condition;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;

/** Puts an alert's view together: the row, its site's name, its advice, its audit. */
final class ViewAssembly {
    private final BooksInForce books;

    ViewAssembly(BooksInForce books) {
        this.books = books;
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
        Map<String, SiteIce> ice = IceStore.bySite(
                handle,
                rows.stream()
                        .map(Named::alert)
                        .filter(this::makesLessIce)
                        .map(alert -> alert.finding().site())
                        .collect(Collectors.toSet()));
        Map<UUID, Silent> silent = silentTogether(handle, rows);
        Map<String, MachineKind> kinds = kinds(handle, rows);
        return rows.stream()
                .map(row -> view(
                        row,
                        holdOf(row.alert(), holds),
                        ice,
                        silent,
                        row.alert().finding().machine().map(kinds::get).orElse(MachineKind.NOT_KNOWN),
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

    private static Optional<String> silence(StoredAlert alert, Optional<Hold> hold, Map<UUID, Silent> silent) {
        Condition condition = alert.finding().condition();
        boolean ofGateway = condition == Condition.GATEWAY_SILENT;
        if (!ofGateway && condition != Condition.MACHINE_SILENT) {
            return Optional.empty();
        }
        String rule = hold.map(Hold::who).orElse("");
        int together = alert.caseId()
                .flatMap(id -> Optional.ofNullable(silent.get(id)))
                .map(of -> alert.clearedAt().isEmpty() ? of.now() : of.ever())
                .orElse(1);
        return Optional.of(Silence.of(
                        ofGateway,
                        rule.equals(Circumstance.SITE_CLOSED.code()),
                        rule.equals(Circumstance.USUALLY_SILENT.code()),
                        together)
                .words());
    }

    /**
     * Machines of a case.
     *
     * @param ever what is over is worded as it was, with all that were silent in its case
     */
    private record Silent(int now, int ever) {}

    /** How many machines of each case are silent. */
    private static Map<UUID, Silent> silentTogether(Handle handle, Collection<Named> rows) {
        Map<UUID, Silent> silent = new HashMap<>();
        List<UUID> cases = rows.stream()
                .filter(row -> row.alert().finding().condition() == Condition.MACHINE_SILENT)
                .flatMap(row -> row.alert().caseId().stream())
                .distinct()
                .toList();
        if (!cases.isEmpty()) {
            handle.createQuery("select case_id, count(distinct machine) filter (where cleared_at is null),"
                            + " count(distinct machine) from alert where case_id = any(:cases)"
                            + " and condition = 'machine-silent' group by case_id")
                    .bindArray("cases", UUID.class, cases)
                    .map((row, context) ->
                            silent.put(row.getObject(1, UUID.class), new Silent(row.getInt(2), row.getInt(3))) == null)
                    .list();
        }
        return silent;
    }

    private static Map<String, MachineKind> kinds(Handle handle, Collection<Named> rows) {
        Map<String, MachineKind> kinds = new HashMap<>();
        List<String> machines = rows.stream()
                .flatMap(row -> row.alert().finding().machine().stream())
                .distinct()
                .toList();
        RegisterStore.machines(handle, machines).forEach(machine -> kinds.put(machine.id(), MachineKind.of(machine)));
        return kinds;
    }

    private boolean makesLessIce(StoredAlert alert) {
        return alert.finding().machine().isPresent()
                && books.priority().makesLessIce(alert.finding().condition())
                && alert.clearedAt().isEmpty();
    }

    private AlertView view(
            Named row,
            Optional<Hold> hold,
            Map<String, SiteIce> ice,
            Map<UUID, Silent> silent,
            MachineKind kind,
            List<AlertView.AuditLine> audit) {
        StoredAlert alert = row.alert();
        return new AlertView(
                alert.finding(),
                alert.priority(),
                alert.priorityWhy(),
                Optional.ofNullable(ice.get(alert.finding().site())).filter(says -> makesLessIce(alert)),
                silence(alert, hold, silent),
                row.siteName(),
                alert.life().state(),
                alert.version(),
                alert.clearedAt(),
                alert.acknowledgedBy(),
                alert.acknowledgedAt(),
                alert.assignee(),
                hold,
                alert.caseId(),
                books.advice().adviceFor(alert.finding(), kind, alert.actBy()),
                List.copyOf(audit));
    }
}
