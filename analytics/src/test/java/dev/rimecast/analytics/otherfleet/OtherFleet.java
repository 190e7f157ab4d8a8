package dev.rimecast.analytics.otherfleet;

import dev.rimecast.analytics.fleetfiles.LivingFleet;
import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.machine.Channel;
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
final class OtherFleet implements LivingFleet {
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

    @Override
    public List<Channel> channels() {
        return sites.stream()
                .flatMap(site -> site.stations.stream())
                .flatMap(station -> station.plan.channels().stream())
                .distinct()
                .sorted()
                .toList();
    }

    /** Sites in parallel: they share nothing. */
    @Override
    public List<Row> advanceTo(double untilSeconds) {
        return sites.parallelStream()
                .flatMap(site -> site.advanceTo(untilSeconds).stream())
                .sorted(Comparator.comparingLong(Row::arrivesMillis).thenComparing(Row::machine))
                .toList();
    }

    @Override
    public List<WeatherRow> weather() {
        return sites.stream()
                .flatMap(site -> site.weather(plan.days()).stream())
                .toList();
    }

    @Override
    public Register register() {
        List<Machine> machines = new ArrayList<>();
        List<Site> places = new ArrayList<>();
        for (OtherSite site : sites) {
            places.add(site.site);
            site.stations.forEach(station -> machines.add(station.register()));
        }
        return new Register(machines, places);
    }

    @Override
    public List<EventRow> events() {
        return sites.stream()
                .flatMap(site -> site.events(0, plan.days() * 86_400.0).stream())
                .sorted(Comparator.comparing(EventRow::at))
                .toList();
    }

    @Override
    public List<TruthRow> truth() {
        return sites.stream()
                .flatMap(site -> site.stations.stream())
                .map(station -> station.truth(plan.start()))
                .toList();
    }
}
