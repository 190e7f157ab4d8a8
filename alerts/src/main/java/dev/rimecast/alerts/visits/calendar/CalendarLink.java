package dev.rimecast.alerts.visits.calendar;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A secret link by which a calendar program reads visits. It shows what its maker may see at the time of reading.
 *
 * @param account whose it is
 * @param engineer whose visits; absent for those of all
 */
public record CalendarLink(
        UUID id, UUID account, Optional<String> engineer, String madeBy, Instant madeAt, Optional<String> revokedBy) {}
