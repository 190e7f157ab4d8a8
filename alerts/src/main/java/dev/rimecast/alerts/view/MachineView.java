package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Site;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A machine as it is now.
 *
 * @param now newest value of each channel that it has ever sent
 * @param openAlerts most urgent first
 * @param outOfService what holds all of its alerts
 */
public record MachineView(
        Machine machine,
        Site site,
        Optional<Instant> lastReadingAt,
        Map<Channel, Now> now,
        List<AlertView> openAlerts,
        Optional<Hold> outOfService) {

    public MachineView {
        now = Map.copyOf(now);
        openAlerts = List.copyOf(openAlerts);
    }

    /** Newest value of a channel; {@code text} for phase and status, else empty. */
    public record Now(Instant at, double value, String text) {}

    /**
     * One line of the fleet: a machine, the alert that decides about it, and how long there is.
     *
     * @param actBy when it stops or reaches a limit, or the latest date of its advice; absent where nothing is due
     * @param openAlerts how many alerts are open
     */
    public record FleetRow(
            String machine,
            String site,
            String siteName,
            Optional<String> room,
            Optional<String> phase,
            Optional<Instant> lastReadingAt,
            Optional<AlertView> leading,
            int openAlerts,
            Optional<Priority> priority,
            Optional<Instant> actBy) {}
}
