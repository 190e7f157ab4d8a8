package dev.rimecast.alerts.visits.calendar;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Where calendar links are kept; of their secrets only the hash. */
public interface CalendarLinkStore {
    void add(CalendarLink link, byte[] secretHash);

    /** An account's that are not revoked, oldest first. */
    List<CalendarLink> of(UUID account);

    /** Also one that is revoked. */
    Optional<CalendarLink> find(byte[] secretHash);

    /** Returns whether the account had it open until now. */
    boolean revoke(UUID account, UUID link, String who, Instant at);
}
