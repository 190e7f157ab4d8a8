package dev.rimecast.alerts.view;

import java.util.List;

/**
 * What somebody asked for who made a visit by hand.
 *
 * @param machines of its site; empty for the site itself
 * @param reason what whoever goes there is to do
 * @param job the firm's job number; may be empty
 * @param minutes on site; more only where what goes along takes longer
 */
public record VisitRequest(List<String> machines, String reason, String job, int minutes) {
    public VisitRequest {
        machines = List.copyOf(machines);
        if (reason.isBlank()) {
            throw new IllegalArgumentException("reason must not be blank");
        }
        if (minutes <= 0) {
            throw new IllegalArgumentException("minutes must be above 0, was " + minutes);
        }
    }
}
