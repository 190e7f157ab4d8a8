package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.view.MachineView.FleetRow;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Every machine by time left. */
public record FleetJson(int total, List<RowJson> machines) {

    /**
     * One machine.
     *
     * @param leading the alert that decides about it
     * @param actBy when it stops, reaches a limit, or must have been visited; absent where nothing is due
     */
    public record RowJson(
            String machine,
            String site,
            String siteName,
            Optional<String> room,
            Optional<String> phase,
            Optional<Instant> lastReadingAt,
            int openAlerts,
            Optional<String> priority,
            Optional<Instant> actBy,
            Optional<AlertSummaryJson> leading) {}

    public static FleetJson of(List<FleetRow> rows) {
        return new FleetJson(rows.size(), rows.stream().map(FleetJson::row).toList());
    }

    /** The first of it, as many as that. */
    public FleetJson first(int most) {
        return machines.size() <= most ? this : new FleetJson(total, List.copyOf(machines.subList(0, most)));
    }

    private static RowJson row(FleetRow row) {
        return new RowJson(
                row.machine(),
                row.site(),
                row.siteName(),
                row.room(),
                row.phase(),
                row.lastReadingAt(),
                row.openAlerts(),
                row.priority().map(priority -> priority.code()),
                row.actBy(),
                row.leading().map(AlertSummaryJson::of));
    }
}
