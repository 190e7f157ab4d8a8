package dev.rimecast.dashboard.live;

import dev.rimecast.alerts.view.SiteScope;
import java.util.Optional;
import java.util.Set;

/**
 * What one screen wants to hear.
 *
 * @param sites that it may hear of
 * @param kinds empty for all
 * @param machine only this one, where present
 */
public record LiveFilter(SiteScope sites, Set<String> kinds, Optional<String> machine) {
    public LiveFilter {
        kinds = Set.copyOf(kinds);
    }

    boolean wants(LiveEvent event) {
        if (event.kind().equals(LiveHub.CLOCK)) {
            return true;
        }
        return sites.includes(event.site())
                && (kinds.isEmpty() || kinds.contains(event.kind()))
                && (machine.isEmpty() || machine.get().equals(event.machine()));
    }
}
