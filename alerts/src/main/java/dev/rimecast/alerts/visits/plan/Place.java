package dev.rimecast.alerts.visits.plan;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Set;

/**
 * When a site can be visited.
 *
 * @param fromMinute of the day from which somebody is there, local time
 */
public record Place(String site, Set<DayOfWeek> closedDays, int fromMinute) {
    public Place {
        closedDays = Set.copyOf(closedDays);
        if (fromMinute < 0 || fromMinute >= 24 * 60) {
            throw new IllegalArgumentException("fromMinute must be from 0 to 1439, was " + fromMinute);
        }
    }

    public boolean isOpen(LocalDate day) {
        return !closedDays.contains(day.getDayOfWeek());
    }
}
