package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.Place;
import dev.rimecast.alerts.visits.plan.VisitPlanner.Start;
import java.time.Instant;
import java.util.List;

/** What needs an engineer now. */
@FunctionalInterface
public interface NeedSource {
    Found read(Instant now);

    /**
     * @param places of every site of the register
     * @param start from when on trips can be made
     */
    record Found(List<Need> needs, List<Place> places, Start start) {}
}
