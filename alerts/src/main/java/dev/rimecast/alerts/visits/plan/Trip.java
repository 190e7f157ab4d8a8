package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.List;

/**
 * One way of one engineer to one site.
 *
 * @param fromMinute of the day, local time of the site
 * @param minutes on site
 */
public record Trip(String site, LocalDate day, int fromMinute, int minutes, String engineer, List<Planned> needs) {
    public Trip {
        needs = List.copyOf(needs);
    }
}
