package dev.rimecast.alerts.people;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A link that can be used once: to make the first account, or to choose a password.
 *
 * @param account whose password; absent for the first account
 */
public record Link(Optional<UUID> account, Instant madeAt, Instant endsAt) {}
