package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.visits.plan.PartLeads;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Team;

/** What planning counts with. */
public record VisitMeans(Team team, PartLeads parts, PlanSettings settings) {
    /** Nobody has said who there is, nor what takes time to come. */
    public static final VisitMeans STANDARD = new VisitMeans(Team.UNKNOWN, PartLeads.IN_STOCK, PlanSettings.STANDARD);
}
