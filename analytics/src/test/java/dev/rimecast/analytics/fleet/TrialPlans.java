package dev.rimecast.analytics.fleet;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;

/** Fleets to try the monitor on. */
final class TrialPlans {
    static final Instant TO = Instant.parse("2026-06-20T00:00:00Z");

    private TrialPlans() {}

    static SitePlan site(String id, SiteKind kind, List<MachinePlan> machines, List<SitePlan.HeatWave> waves) {
        return new SitePlan(Site.basic(id), kind, new Climate(4, 0), machines, waves);
    }

    static MachinePlan cube50(String id, String site) {
        return Model.CUBE_50.machine(id, site, "gw-" + site, ChannelSet.FULL, 0.6);
    }

    static FleetPlan plan(int days, List<SitePlan> sites, List<FaultPlan> faults) {
        return new FleetPlan(
                11, TO.minus(Duration.ofDays(days)), TO, Duration.ofSeconds(60), sites, faults, List.of(), List.of());
    }

    /**
     * Four machines on each of six sites: any model, any set of channels, cleanings, nights switched off, and heat on about
     * every second site. Nothing is wrong with any of them.
     */
    static FleetPlan healthy(long seed, int days) {
        Random random = new Random(seed);
        Instant to = TO.plus(Duration.ofDays(random.nextInt(365)));
        Instant from = to.minus(Duration.ofDays(days));
        List<SitePlan> sites = new ArrayList<>();
        List<Happened> events = new ArrayList<>();
        for (int s = 0; s < 6; s++) {
            String site = "site-" + s;
            List<MachinePlan> machines = new ArrayList<>();
            for (int m = 0; m < 4; m++) {
                MachinePlan machine = any(random, site + '-' + m, site);
                machines.add(machine);
                if (random.nextInt(3) == 0) {
                    Instant at = from.plus(Duration.ofHours(24L * (5 + random.nextInt(days - 7)) + 9));
                    events.add(new Happened(at, Optional.of(machine.id()), EventKind.CLEANED, "", "staff", ""));
                }
            }
            List<SitePlan.HeatWave> waves = random.nextBoolean()
                    ? List.of(new SitePlan.HeatWave(
                            to.minus(Duration.ofDays(12)), to.minus(Duration.ofDays(4)), 4 + 4 * random.nextDouble()))
                    : List.of();
            sites.add(site(site, SiteKind.values()[random.nextInt(SiteKind.values().length)], machines, waves));
        }
        events.sort(Comparator.comparing(Happened::at));
        return new FleetPlan(seed, from, to, Duration.ofSeconds(60), sites, List.of(), events, List.of());
    }

    /** Three sites of four sound machines that send two temperatures only, half a year ahead of the season of policies. */
    static FleetPlan bareWithSeasonTurned(long seed, int days) {
        List<SitePlan> sites = new ArrayList<>();
        for (int s = 0; s < 3; s++) {
            String site = "site-" + s;
            List<MachinePlan> machines = new ArrayList<>();
            for (int m = 0; m < 4; m++) {
                Model model = Model.values()[(s + m) % Model.values().length];
                machines.add(
                        model.machine(site + '-' + m, site, "gw-" + site, ChannelSet.TEMPERATURES, 0.4 + 0.08 * m));
            }
            SiteKind kind = SiteKind.values()[s % SiteKind.values().length];
            sites.add(new SitePlan(Site.basic(site), kind, new Climate(2, 182), machines, List.of()));
        }
        Instant from = TO.minus(Duration.ofDays(days));
        return new FleetPlan(seed, from, TO, Duration.ofSeconds(60), sites, List.of(), List.of(), List.of());
    }

    private static MachinePlan any(Random random, String id, String site) {
        Model model = Model.values()[random.nextInt(Model.values().length)];
        ChannelSet channels = ChannelSet.values()[random.nextInt(ChannelSet.values().length)];
        MachinePlan plan = model.machine(id, site, "gw-" + site, channels, 0.35 + 0.3 * random.nextDouble());
        Optional<MachinePlan.Night> night =
                random.nextInt(6) == 0 ? Optional.of(new MachinePlan.Night(23 * 60, 6 * 60)) : Optional.empty();
        return new MachinePlan(
                plan.machine(), plan.control(), plan.channels(), plan.fanCycles(), plan.kgPerDay(), night);
    }
}
