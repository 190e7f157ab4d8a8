package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/** Small plans for tests. */
final class Plans {
    static final Instant START = Instant.parse("2026-05-04T00:00:00Z");

    private Plans() {}

    /** One site with one machine of each model, all channels. */
    static FleetPlan oneOfEach(long seed, Duration length, Duration sampling, FaultPlan... faults) {
        List<MachinePlan> machines = new ArrayList<>();
        for (Model model : Model.values()) {
            machines.add(model.machine(model.group(), "site-1", "gw-1", ChannelSet.FULL, 0.6));
        }
        SitePlan site = new SitePlan(Site.basic("site-1"), SiteKind.PLANT_ROOM, Climate.RECORDED, machines, List.of());
        return plan(seed, length, sampling, List.of(site), faults);
    }

    static FleetPlan plan(long seed, Duration length, Duration sampling, List<SitePlan> sites, FaultPlan... faults) {
        return new FleetPlan(seed, START, START.plus(length), sampling, sites, List.of(faults), List.of(), List.of());
    }
}
