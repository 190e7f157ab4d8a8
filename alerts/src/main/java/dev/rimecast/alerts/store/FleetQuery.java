package dev.rimecast.alerts.store;

import static java.util.stream.Collectors.groupingBy;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.MachineView.FleetRow;
import dev.rimecast.telemetry.finding.Priority;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Every machine with the alert that decides about it. Planned care is never in this list. */
final class FleetQuery {
    private final ViewAssembly assembly;

    FleetQuery(ViewAssembly assembly) {
        this.assembly = assembly;
    }

    private record MachineRow(
            String machine,
            String site,
            String siteName,
            Optional<String> room,
            Optional<String> phase,
            Optional<Instant> lastReadingAt) {}

    List<FleetRow> rows(Handle handle) {
        Map<String, List<AlertView>> open = openAlerts(handle).stream()
                .collect(groupingBy(alert -> alert.finding().machine().orElse("")));
        return machines(handle).stream()
                .map(machine -> row(machine, open.getOrDefault(machine.machine(), List.of())))
                .sorted(FleetOrder.BY_TIME_LEFT)
                .toList();
    }

    private List<AlertView> openAlerts(Handle handle) {
        List<ViewAssembly.Named> rows = handle.createQuery(
                        ViewAssembly.SELECT + "where a.state <> 'normal' and a.machine is not null")
                .map((row, context) -> new ViewAssembly.Named(StoredAlert.of(row), row.getString("site_name")))
                .list();
        return assembly.views(
                handle,
                rows.stream()
                        .filter(row -> !row.alert().finding().condition().isCare())
                        .toList());
    }

    private static List<MachineRow> machines(Handle handle) {
        return handle.createQuery("""
                select m.id, m.site, s.name, m.room, l.phase, l.newest
                from machine m join site s on s.id = m.site
                left join latest_row l on l.machine = m.id""")
                .map((row, context) -> new MachineRow(
                        row.getString(1),
                        row.getString(2),
                        row.getString(3),
                        Optional.ofNullable(row.getString(4)),
                        Optional.ofNullable(row.getString(5)),
                        Optional.ofNullable(row.getTimestamp(6)).map(Timestamp::toInstant)))
                .list();
    }

    private static FleetRow row(MachineRow machine, List<AlertView> open) {
        List<AlertView> active = open.stream()
                .filter(alert -> alert.state().isActive())
                .sorted(LEADING)
                .toList();
        Optional<AlertView> leading =
                active.stream().findFirst().or(() -> open.stream().min(NOT_ACTIVE));
        return new FleetRow(
                machine.machine(),
                machine.site(),
                machine.siteName(),
                machine.room(),
                machine.phase(),
                machine.lastReadingAt(),
                leading,
                open.size(),
                active.stream().map(AlertView::priority).min(Comparator.naturalOrder()),
                active.stream()
                        .flatMap(alert -> alert.advice().latestDate().stream())
                        .min(Comparator.naturalOrder()));
    }

    /** Where nothing is there that counts: first what somebody should look at, what is held last. */
    private static final Comparator<AlertView> NOT_ACTIVE = Comparator.comparing(
                    (AlertView alert) -> alert.state().isHeld())
            .thenComparing(alert -> !alert.state().needsEyes())
            .thenComparing(AlertView::priority)
            .thenComparing(alert -> alert.finding().id());

    /** Urgent first, then the earliest date, then the priority. */
    static final Comparator<AlertView> LEADING = Comparator.comparing(
                    (AlertView alert) -> alert.priority() != Priority.URGENT)
            .thenComparing(alert -> alert.advice().latestDate().orElse(Instant.MAX))
            .thenComparing(AlertView::priority)
            .thenComparing(alert -> alert.finding().raisedAt())
            .thenComparing(alert -> alert.finding().id());
}
