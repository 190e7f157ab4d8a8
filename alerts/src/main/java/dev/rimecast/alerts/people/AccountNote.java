package dev.rimecast.alerts.people;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A line of the audit of accounts: who did what, to whom. Never a password, a token or a link.
 *
 * @param who the account's name, or what did it by itself
 * @param account whom it is about
 */
public record AccountNote(Instant at, String who, Optional<UUID> account, String what, String detail) {}
