package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.Set;
import java.util.UUID;

/**
 * A visit that was accepted: it stays where it is, and takes what fits.
 *
 * @param needs ids of what it is for already
 * @param idleMinutes of its minutes, those that nothing takes up yet: what joins it uses them first
 */
public record Booking(
        UUID id,
        String site,
        LocalDate day,
        int fromMinute,
        int minutes,
        String engineer,
        Set<String> needs,
        int idleMinutes) {
    public Booking(
            UUID id, String site, LocalDate day, int fromMinute, int minutes, String engineer, Set<String> needs) {
        this(id, site, day, fromMinute, minutes, engineer, needs, 0);
    }

    public Booking {
        needs = Set.copyOf(needs);
    }
}
