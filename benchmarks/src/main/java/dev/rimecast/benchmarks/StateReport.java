package dev.rimecast.benchmarks;

import dev.rimecast.analytics.monitor.Nowhere;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Bytes of serialised state for each machine after 45 days with every channel, some of the machines with faults. */
public final class StateReport {
    private static final int DAYS = 45;
    private static final int SITES = 8;
    private static final Duration SAMPLING = Duration.ofSeconds(30);
    private static final Duration MINUTE = Duration.ofMinutes(1);

    private StateReport() {}

    public static void main(String[] args) {
        FleetPlan plan = TrialFleet.plan(
                new TrialSettings(41, SITES, DAYS, SAMPLING, TrialChannels.FULL, TrialSettings.allCauses()));
        Map<String, Integer> ofMachine = new HashMap<>();
        for (SimulatedSite site : new SimulatedFleet(plan).sites()) {
            SiteMonitor monitor = lived(plan, site);
            monitor.saveTouched((key, bytes) -> {
                // What it has learned stands apart, under its name and more.
                String machine = key.replaceFirst("~.*", "");
                if (bytes != null && plan.register().machine(machine).isPresent()) {
                    ofMachine.merge(machine, bytes.length, Integer::sum);
                }
            });
        }
        List<Integer> sizes = ofMachine.values().stream().sorted().toList();
        System.out.printf(
                Locale.ROOT,
                "state after %d days: %d machines, median %,d B, max %,d B%n",
                DAYS,
                sizes.size(),
                sizes.get(sizes.size() / 2),
                sizes.get(sizes.size() - 1));
    }

    private static SiteMonitor lived(FleetPlan plan, SimulatedSite site) {
        String id = site.site().id();
        SiteMonitor monitor = SiteMonitor.fresh(id, Policy.standard());
        List<Machine> machines = plan.register().machinesAt(id);
        machines.forEach(m -> monitor.accept(new SiteRecord.Registered(plan.from(), m), Nowhere.OUTPUT));
        for (Instant at = plan.from().plus(MINUTE); !at.isAfter(plan.to()); at = at.plus(MINUTE)) {
            List<Reading> readings = site.advanceTo(at).readings();
            if (!readings.isEmpty()) {
                String gateway = machines.get(0).gateway();
                monitor.accept(new SiteRecord.Pack(gateway, Optional.empty(), at, readings, 0), Nowhere.OUTPUT);
            }
            monitor.accept(new SiteRecord.Tick(at), Nowhere.OUTPUT);
        }
        return monitor;
    }
}
