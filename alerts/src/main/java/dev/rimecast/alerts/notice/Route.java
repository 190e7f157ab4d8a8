package dev.rimecast.alerts.notice;

import dev.rimecast.telemetry.finding.Priority;
import java.time.Duration;
import java.util.List;
import java.util.Set;

/**
 * Who is told of what. An empty set asks nothing.
 *
 * @param tellsEnd whether those who were told are told when it is over
 * @param steps the first at once, each further one when nobody has acknowledged
 */
public record Route(
        String name,
        Set<String> sites,
        Set<Priority> priorities,
        Set<Trouble> kinds,
        boolean tellsEnd,
        List<Step> steps) {

    /**
     * Receivers that are told together.
     *
     * @param after how long nobody has acknowledged since the step before was due; zero for the first
     */
    public record Step(Duration after, List<String> receivers) {
        public Step {
            receivers = List.copyOf(receivers);
        }
    }

    public Route {
        sites = Set.copyOf(sites);
        priorities = Set.copyOf(priorities);
        kinds = Set.copyOf(kinds);
        steps = List.copyOf(steps);
        if (steps.isEmpty()) {
            throw new IllegalArgumentException("route " + name + " has no step");
        }
    }

    boolean leads(String site, Priority priority, Trouble kind) {
        return (sites.isEmpty() || sites.contains(site))
                && (priorities.isEmpty() || priorities.contains(priority))
                && (kinds.isEmpty() || kinds.contains(kind));
    }
}
