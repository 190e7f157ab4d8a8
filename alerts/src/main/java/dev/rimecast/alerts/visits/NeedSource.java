package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Place;
import dev.rimecast.alerts.visits.plan.VisitPlanner.Start;
import java.time.Instant;
import java.util.List;
import java.util.Map;

/** What needs an engineer now. */
@FunctionalInterface
public interface NeedSource {
    Found read(Instant now);

    /**
     * @param places of every site of the register
     * @param start from when on trips can be made
     * @param orders of each need that has any, what takes days to come for it
     */
    record Found(List<Need> needs, List<Place> places, Start start, Map<String, List<PartOrder>> orders) {}
}
