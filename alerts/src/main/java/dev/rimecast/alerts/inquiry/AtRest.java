package dev.rimecast.alerts.inquiry;

import dev.rimecast.alerts.store.ClosureQuery;
import dev.rimecast.alerts.store.SiteLinkStore.Row;
import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Whether a machine is known to make no ice now: by its phase, where it tells one, or because it is closed by its own word. */
final class AtRest {
    /** What it told longer ago says nothing of now. */
    private static final Duration FRESH = Duration.ofMinutes(30);

    private AtRest() {}

    static boolean is(Handle handle, Views views, Row link, Instant now) {
        return ClosureQuery.standing(handle, List.of(link.site()), now).stream()
                        .anyMatch(closure -> closure.machine()
                                .filter(id -> !id.equals(link.machine()))
                                .isEmpty())
                || views.machine(link.machine())
                        .filter(machine -> tells(machine, now))
                        .isPresent();
    }

    private static boolean tells(MachineView machine, Instant now) {
        return Optional.ofNullable(machine.now().get(Channel.PHASE))
                .filter(told -> !told.at().isBefore(now.minus(FRESH)))
                .flatMap(told -> Phase.ofCode(told.text()))
                .filter(AtRest::isRest)
                .isPresent();
    }

    /** A full bin is idle; with fixed times, reduced, it goes on making ice. */
    static boolean isRest(Phase phase) {
        return switch (phase) {
            case WAIT, IDLE, CLEAN, STOPPED, OFF -> true;
            case FILL, FREEZE, HARVEST, REDUCED -> false;
        };
    }
}
