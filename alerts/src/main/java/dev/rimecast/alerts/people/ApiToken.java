package dev.rimecast.alerts.people;

import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * What a script comes in with. Only its hash is kept. It never has more rights than its maker has at the moment.
 *
 * @param account its maker
 * @param name what it is for
 */
public record ApiToken(
        UUID id,
        UUID account,
        String name,
        Role role,
        SiteScope sites,
        Instant madeAt,
        Instant endsAt,
        Optional<Instant> usedAt) {
    public static final Duration LONGEST = Duration.ofDays(366);
}
