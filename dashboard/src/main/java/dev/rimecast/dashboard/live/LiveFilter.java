package dev.rimecast.dashboard.live;

import java.util.Optional;
import java.util.Set;

/**
 * What one screen wants to hear.
 *
 * @param kinds empty for all
 * @param machine only this one, where present
 */
public record LiveFilter(Set<String> kinds, Optional<String> machine) {
    public LiveFilter {
        kinds = Set.copyOf(kinds);
    }

    boolean wants(LiveEvent event) {
        if (event.kind().equals(LiveHub.CLOCK)) {
            return true;
        }
        return (kinds.isEmpty() || kinds.contains(event.kind()))
                && (machine.isEmpty() || machine.get().equals(event.machine()));
    }
}
