package dev.rimecast.alerts.notice;

import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * A daily summary. One for each day of the local calendar, whatever the clocks do: a time that is left out in spring is
 * as much later as the clock jumps, and of one that comes twice in autumn the first counts.
 *
 * @param sites all where empty
 */
public record DigestPlan(String name, List<String> receivers, LocalTime at, ZoneId zone, Set<String> sites) {
    public DigestPlan {
        receivers = List.copyOf(receivers);
        sites = Set.copyOf(sites);
    }

    /** The day whose digest should be there by now, if {@code last} is not it. A day that was slept through has none. */
    public Optional<LocalDate> due(Instant now, Optional<LocalDate> last) {
        LocalDate today = now.atZone(zone).toLocalDate();
        boolean isTime = !now.isBefore(moment(today));
        boolean isNew = last.filter(day -> !day.isBefore(today)).isEmpty();
        return isTime && isNew ? Optional.of(today) : Optional.empty();
    }

    /** When the digest of a day is due. */
    public Instant moment(LocalDate day) {
        return day.atTime(at).atZone(zone).toInstant();
    }
}
