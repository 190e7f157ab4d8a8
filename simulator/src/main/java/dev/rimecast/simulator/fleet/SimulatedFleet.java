package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.place.Weather;
import dev.rimecast.telemetry.machine.Register;
import java.util.List;

/** A fleet that is simulated site by site: {@code fleet.sites().get(0).advanceTo(instant)}. */
public final class SimulatedFleet {
    private final FleetPlan plan;
    private final List<SimulatedSite> sites;

    public SimulatedFleet(FleetPlan plan) {
        this.plan = plan;
        Weather weather = Weather.recorded();
        sites = plan.sites().stream()
                .map(site -> new SimulatedSite(plan, site, weather))
                .toList();
    }

    public FleetPlan plan() {
        return plan;
    }

    public Register register() {
        return plan.register();
    }

    /** In the plan's order. */
    public List<SimulatedSite> sites() {
        return sites;
    }

    /** What is true up to where each site has been simulated, in the plan's order. */
    public List<Truth> truth() {
        return sites.stream().flatMap(site -> site.truth().stream()).toList();
    }
}
