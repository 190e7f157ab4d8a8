package dev.rimecast.analytics.fleet;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.analytics.monitor.Recorded;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A simulated fleet, watched from its first day to its last: what was found, and what was true. */
final class FleetTrial {
    final List<Cycle> cycles = new ArrayList<>();
    final List<Finding> findings = new ArrayList<>();
    final List<Truth> truth;
    final double machineYears;
    MonitorCounts counts = new MonitorCounts(0, 0, 0, 0, 0);
    int largestState;

    private FleetTrial(SimulatedFleet fleet, double machineYears) {
        this.machineYears = machineYears;
        fleet.sites().parallelStream().map(site -> watch(fleet, site)).toList().forEach(this::add);
        truth = fleet.truth();
    }

    static FleetTrial of(FleetPlan plan) {
        SimulatedFleet fleet = new SimulatedFleet(plan);
        double days = Duration.between(plan.from(), plan.to()).toHours() / 24.0;
        return new FleetTrial(fleet, fleet.register().machines().size() * days / 365);
    }

    private static final class OfSite extends Recorded {
        MonitorCounts counts = new MonitorCounts(0, 0, 0, 0, 0);
        int largestState;

        /** All that is kept of a machine, what it has learned included. */
        int bytesOf(String machine) {
            return states.entrySet().stream()
                    .filter(part -> part.getKey().replaceFirst("~.*", "").equals(machine))
                    .mapToInt(part -> part.getValue().length)
                    .sum();
        }
    }

    private static OfSite watch(SimulatedFleet fleet, SimulatedSite site) {
        OfSite found = new OfSite();
        String id = site.site().id();
        SiteMonitor monitor = SiteMonitor.fresh(id, Policy.standard());
        List<Machine> machines = fleet.register().machinesAt(id);
        Instant from = fleet.plan().from();
        machines.forEach(machine -> monitor.accept(new SiteRecord.Registered(from, machine), found));
        for (Instant at = from.plusSeconds(3600); !at.isAfter(fleet.plan().to()); at = at.plusSeconds(3600)) {
            feed(site.advanceTo(at), machines.get(0).gateway(), monitor, found);
            monitor.saveTouched(found::keep);
            machines.forEach(m -> found.largestState = Math.max(found.largestState, found.bytesOf(m.id())));
        }
        found.counts = monitor.counts();
        return found;
    }

    private static void feed(SiteBatch batch, String gateway, SiteMonitor monitor, OfSite found) {
        batch.events().forEach(event -> monitor.accept(event, found));
        List<Reading> readings = batch.readings();
        int next = 0;
        for (long minute = batch.from().toEpochMilli(); minute < batch.to().toEpochMilli(); minute += 60_000) {
            List<Reading> pack = new ArrayList<>();
            while (next < readings.size() && readings.get(next).timeMillis() <= minute + 60_000) {
                pack.add(readings.get(next++));
            }
            Instant end = Instant.ofEpochMilli(minute + 60_000);
            if (!pack.isEmpty()) {
                monitor.accept(new SiteRecord.Pack(gateway, Optional.empty(), end, pack, 0), found);
            }
            monitor.accept(new SiteRecord.Tick(end), found);
        }
    }

    private void add(OfSite site) {
        cycles.addAll(site.cycles);
        findings.addAll(site.findings);
        counts = counts.plus(site.counts);
        largestState = Math.max(largestState, site.largestState);
    }

    List<Finding> raised() {
        return findings.stream().filter(f -> f.step() == Step.RAISED).toList();
    }

    /** Every step of a condition of one machine, in order. */
    List<Finding> of(String machine, Condition condition) {
        return findings.stream()
                .filter(f -> f.machine().equals(Optional.of(machine)) && f.condition() == condition)
                .toList();
    }
}
