package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.time.Instant;
import java.time.ZoneId;
import java.util.List;
import java.util.Map;

/**
 * What planning goes by besides visits: read before it looks at these, which may keep others waiting.
 *
 * @param zones of the sites, by their id
 */
record Ahead(Team team, PlanSettings settings, NeedSource.Found found, Map<String, ZoneId> zones, Instant now) {
    Planning planning(VisitStore.Session session) {
        return new Planning(team, settings, found, zones, now, session);
    }

    LastLook.Known known(List<Waiting> waiting) {
        return new LastLook.Known(waiting, found.orders());
    }
}
