package dev.rimecast.alerts.people;

import dev.rimecast.alerts.view.SiteScope;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * Somebody who can sign in.
 *
 * @param name what they sign in with and what the audit says; unique whatever its letters' case
 * @param isDemo of a demonstration: entered without a password, and only there
 * @param hasPassword false until they have chosen one by their link
 * @param disabledAt since when they can't come in
 */
public record Account(
        UUID id,
        String name,
        Role role,
        SiteScope sites,
        boolean isDemo,
        boolean hasPassword,
        Instant createdAt,
        Optional<Instant> disabledAt) {

    static final int LONGEST_NAME = 60;

    public boolean isEnabled() {
        return disabledAt.isEmpty();
    }

    Account with(Role newRole, SiteScope newSites, Optional<Instant> newDisabledAt) {
        return new Account(id, name, newRole, newSites, isDemo, hasPassword, createdAt, newDisabledAt);
    }
}
