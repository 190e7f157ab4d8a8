package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A random fleet to measure detection on. Half of its machines stay sound, the others have one fault each, the causes by
 * turns; around all of them happens what is no fault: see {@link TrialPlaces}.
 */
public final class TrialFleet {
    private static final Instant EARLIEST = Instant.parse("2025-01-01T00:00:00Z");
    private static final double SWITCHED_OFF_AT_NIGHT = 1.0 / 6;

    private TrialFleet() {}

    /** The plan that these settings make. */
    public static FleetPlan plan(TrialSettings settings) {
        Noise noise = Noise.of(settings.seed(), "trial");
        Instant from = EARLIEST.plus(Duration.ofDays((long) noise.uniform(0, 365)));
        Instant to = from.plus(Duration.ofDays(settings.days()));
        List<SitePlan> sites = new ArrayList<>();
        for (int i = 0; i < settings.sites(); i++) {
            sites.add(site(String.format(Locale.ROOT, "site-%02d", i + 1), settings));
        }
        TrialFaults faults = new TrialFaults(settings, from, to);
        sites.replaceAll(faults::give);
        TrialPlaces places = new TrialPlaces(settings, from, to, faults.faults());
        sites.replaceAll(places::live);
        List<FleetPlan.Outage> outages = new ArrayList<>(faults.outages());
        outages.addAll(places.outages());
        return new FleetPlan(
                settings.seed(),
                from,
                to,
                settings.sampling(),
                sites,
                faults.faults(),
                InOrder.of(faults.events(), places.events()),
                outages);
    }

    private static SitePlan site(String id, TrialSettings settings) {
        Noise noise = Noise.of(settings.seed(), id + "/plan");
        SiteKind[] kinds = SiteKind.values();
        SiteKind kind = kinds[pick(noise, kinds.length)];
        Climate climate = new Climate(noise.uniform(-2, 7), pick(noise, 365));
        int machines = 3 + pick(noise, 3);
        List<MachinePlan> plans = new ArrayList<>();
        for (int i = 1; i <= machines; i++) {
            plans.add(machine(id + '-' + i, id, settings, noise));
        }
        return new SitePlan(Site.basic(id), kind, climate, plans, List.of());
    }

    private static MachinePlan machine(String id, String site, TrialSettings settings, Noise noise) {
        Model model = Model.values()[pick(noise, Model.values().length)];
        double load = noise.uniform(0.3, 0.7);
        MachinePlan plan =
                model.machine(id, site, "gw-" + site, settings.channels().pick(noise), load);
        return noise.uniform() < SWITCHED_OFF_AT_NIGHT ? nightly(plan) : plan;
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
