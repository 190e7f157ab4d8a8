package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;

/**
 * A fleet of simulated machines whose physics differ in kind from those of the module {@code simulator}: nothing is shared
 * between the two, so that detectors can be judged where they were not tuned.
 */
final class OtherFleet {
    private final OtherFleetPlan plan;
    private final List<OtherSite> sites = new ArrayList<>();

    OtherFleet(OtherFleetPlan plan) {
        this.plan = plan;
        SplittableRandom random = new SplittableRandom(plan.seed());
        FaultRotation rotation = new FaultRotation(plan, random.split());
        for (int i = 0; i < plan.sites(); i++) {
            sites.add(new SiteBuilder(plan, i, rotation, random.split()).build());
        }
    }

    OtherFleetPlan plan() {
        return plan;
    }

    List<OtherSite> sites() {
        return List.copyOf(sites);
    }

    Register register() {
        List<Machine> machines = new ArrayList<>();
        List<Site> places = new ArrayList<>();
        for (OtherSite site : sites) {
            places.add(site.site);
            site.stations.forEach(station -> machines.add(station.register()));
        }
        return new Register(machines, places);
    }

    /** What people reported; complete only after the whole time has been lived through. */
    List<EventRow> events() {
        return sites.stream()
                .flatMap(site -> site.events(0, plan.days() * 86_400.0).stream())
                .sorted(Comparator.comparing(EventRow::at))
                .toList();
    }

    /** What was really wrong; complete only after the whole time has been lived through. */
    List<TruthRow> truth() {
        return sites.stream()
                .flatMap(site -> site.stations.stream())
                .map(station -> station.truth(plan.start()))
                .toList();
    }
}
