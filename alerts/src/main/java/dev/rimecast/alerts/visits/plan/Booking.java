package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.Set;
import java.util.UUID;

/**
 * A visit that was accepted: it stays where it is, and takes what fits.
 *
 * @param needs ids of what it is for already
 */
public record Booking(
        UUID id, String site, LocalDate day, int fromMinute, int minutes, String engineer, Set<String> needs) {
    public Booking {
        needs = Set.copyOf(needs);
    }
}
