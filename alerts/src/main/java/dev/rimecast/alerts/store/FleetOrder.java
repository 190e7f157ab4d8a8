package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.MachineView.FleetRow;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Instant;
import java.util.Comparator;

/**
 * The fleet by time left: urgent machines, then by the date by which somebody must act, then those with an alert that
 * has no date, then quiet ones by name.
 */
final class FleetOrder {
    static final Comparator<FleetRow> BY_TIME_LEFT = Comparator.comparing((FleetRow row) ->
                    row.priority().filter(p -> p == Priority.URGENT).isEmpty())
            .thenComparing(row -> row.actBy().orElse(Instant.MAX))
            .thenComparing(row -> row.priority().map(Priority::ordinal).orElse(Integer.MAX_VALUE))
            .thenComparing(row -> row.openAlerts() == 0)
            .thenComparing(FleetRow::machine);

    private FleetOrder() {}
}
