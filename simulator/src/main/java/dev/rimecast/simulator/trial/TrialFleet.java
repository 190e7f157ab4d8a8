package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.FleetPlan.Outage;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.fleet.SitePlan.OpenLid;
import dev.rimecast.simulator.fleet.SitePlan.Rush;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A random fleet to measure detection on. Half of its machines stay sound, the others have one fault each, the causes by
 * turns ({@link TrialFault}); around all of them happens what is no fault ({@link TrialPlaces}, {@link TrialPeople}).
 */
public final class TrialFleet {
    private static final Instant EARLIEST = Instant.parse("2025-01-01T00:00:00Z");
    private static final double SWITCHED_OFF_AT_NIGHT = 1.0 / 6;

    private final TrialSettings settings;
    private final long seed;
    private final Instant from;
    private final Instant to;
    private final List<Happened> events = new ArrayList<>();
    private final List<Outage> outages = new ArrayList<>();

    private TrialFleet(TrialSettings settings) {
        this.settings = settings;
        seed = Noise.spread(settings.seed());
        Noise noise = Noise.of(seed, "trial");
        from = EARLIEST.plus(Duration.ofDays(pick(noise, 365)));
        to = from.plus(Duration.ofDays(settings.days()));
    }

    /** The plan that these settings make. */
    public static FleetPlan plan(TrialSettings settings) {
        return new TrialFleet(settings).plan();
    }

    private FleetPlan plan() {
        List<SitePlan> sites = new ArrayList<>();
        TrialFaults faults = new TrialFaults(settings.causes(), Noise.of(seed, "faults"), from, to);
        for (int i = 1; i <= settings.sites(); i++) {
            sites.add(faults.give(site(String.format(Locale.ROOT, "site-%02d", i))));
        }
        sites.replaceAll(site -> live(site, faults.faults()));
        events.addAll(faults.events());
        events.sort(Comparator.comparing(Happened::at));
        outages.addAll(faults.outages());
        return new FleetPlan(seed, from, to, settings.sampling(), sites, faults.faults(), events, outages);
    }

    private SitePlan site(String id) {
        Noise noise = Noise.of(seed, id + "/plan");
        SiteKind kind = SiteKind.values()[pick(noise, SiteKind.values().length)];
        Climate climate = bearable(kind, new Climate(noise.uniform(-2, 7), pick(noise, 365)));
        int machines = 3 + pick(noise, 3);
        List<MachinePlan> plans = new ArrayList<>();
        for (int i = 1; i <= machines; i++) {
            plans.add(machine(id + '-' + i, id, noise));
        }
        return new SitePlan(Site.basic(id), kind, climate, plans, List.of());
    }

    /** As warm as drawn, or as warm as a sound machine stands. */
    private Climate bearable(SiteKind kind, Climate drawn) {
        Climate climate = drawn;
        while (new RoomCourse(kind, climate, ZoneOffset.UTC, from, to).hottest() > RoomCourse.HOTTEST_CELSIUS) {
            climate = new Climate(climate.warmerKelvin() - 1, climate.seasonDays());
        }
        return climate;
    }

    private MachinePlan machine(String id, String site, Noise noise) {
        Model model = Model.values()[pick(noise, Model.values().length)];
        double load = noise.uniform(0.3, 0.7);
        MachinePlan plan =
                model.machine(id, site, "gw-" + site, settings.channels().pick(noise), load);
        return noise.uniform() < SWITCHED_OFF_AT_NIGHT ? nightly(plan) : plan;
    }

    /** Gives a site what happens around its machines. */
    private SitePlan live(SitePlan site, List<FaultPlan> faults) {
        Noise noise = Noise.of(seed, site.site().id() + "/life");
        TrialPlaces places = new TrialPlaces(from, to, new Steps(faults));
        TrialPeople people = new TrialPeople(from, to, faults);
        outages.addAll(places.outages(site, noise));
        List<Rush> closed = people.closedWeeks(site, noise);
        events.addAll(people.events(site, closed, noise));
        List<OpenLid> lids = site.machines().stream()
                .flatMap(machine -> people.lids(machine, noise).stream())
                .toList();
        List<Rush> rushes =
                Stream.concat(people.feasts(noise).stream(), closed.stream()).toList();
        return new SitePlan(
                site.site(), site.kind(), site.climate(), site.machines(), places.weather(site, noise), rushes, lids);
    }

    /** The same machine, switched off every night. */
    static MachinePlan nightly(MachinePlan plan) {
        return new MachinePlan(
                plan.machine(),
                plan.control(),
                plan.channels(),
                plan.fanCycles(),
                plan.kgPerDay(),
                Optional.of(new MachinePlan.Night(23 * 60, 6 * 60)));
    }

    /** A whole number from 0 to {@code below}, exclusive. */
    static int pick(Noise noise, int below) {
        return (int) (noise.uniform() * below);
    }
}
