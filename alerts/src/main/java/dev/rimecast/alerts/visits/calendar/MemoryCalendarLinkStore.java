package dev.rimecast.alerts.visits.calendar;

import java.time.Instant;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** In memory, for tests and for looking at pages. */
public final class MemoryCalendarLinkStore implements CalendarLinkStore {
    private record Kept(CalendarLink link, byte[] secretHash) {}

    private final Map<UUID, Kept> links = new LinkedHashMap<>();

    @Override
    public synchronized void add(CalendarLink link, byte[] secretHash) {
        links.put(link.id(), new Kept(link, secretHash));
    }

    @Override
    public synchronized List<CalendarLink> of(UUID account) {
        return links.values().stream()
                .map(Kept::link)
                .filter(link ->
                        link.account().equals(account) && link.revokedBy().isEmpty())
                .toList();
    }

    @Override
    public synchronized Optional<CalendarLink> find(byte[] secretHash) {
        return links.values().stream()
                .filter(kept -> Arrays.equals(kept.secretHash(), secretHash))
                .map(Kept::link)
                .findFirst();
    }

    @Override
    public synchronized boolean revoke(UUID account, UUID id, String who, Instant at) {
        Kept kept = links.get(id);
        if (kept == null
                || !kept.link().account().equals(account)
                || kept.link().revokedBy().isPresent()) {
            return false;
        }
        CalendarLink link = kept.link();
        links.put(
                id,
                new Kept(
                        new CalendarLink(id, account, link.engineer(), link.madeBy(), link.madeAt(), Optional.of(who)),
                        kept.secretHash()));
        return true;
    }
}
