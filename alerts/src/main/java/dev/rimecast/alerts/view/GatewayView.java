package dev.rimecast.alerts.view;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A gateway of the register, and when it was last heard.
 *
 * @param isOnline what its presence said last; absent where it never said any
 * @param lastPackAt newest pack of readings; absent where none came
 * @param machines those that it speaks for, by name
 */
public record GatewayView(
        String gateway,
        String site,
        String siteName,
        Optional<Boolean> isOnline,
        Optional<Instant> presenceAt,
        Optional<Instant> lastPackAt,
        List<String> machines) {
    public GatewayView {
        machines = List.copyOf(machines);
    }
}
