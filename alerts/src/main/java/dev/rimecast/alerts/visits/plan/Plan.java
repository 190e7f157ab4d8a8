package dev.rimecast.alerts.visits.plan;

import java.util.List;
import java.util.Map;
import java.util.UUID;

/**
 * Every need once: on a trip, on a visit that was accepted, or waiting with a reason.
 *
 * @param joined what is new on visits that were accepted, by the visit
 */
public record Plan(List<Trip> trips, Map<UUID, List<Planned>> joined, List<Waiting> waiting) {
    public Plan {
        trips = List.copyOf(trips);
        joined = Map.copyOf(joined);
        waiting = List.copyOf(waiting);
    }
}
