package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * What is to be simulated. The same plan gives the same readings, whatever the number of threads or the steps taken.
 *
 * @param from whole minutes
 * @param to end of the planned history; a simulation may go on beyond it
 * @param sampling between two readings of a temperature: divides a minute, or is whole minutes
 * @param events of machines: what people did; {@code cleaned} runs a cleaning
 * @param outages of gateways
 */
public record FleetPlan(
        long seed,
        Instant from,
        Instant to,
        Duration sampling,
        List<SitePlan> sites,
        List<FaultPlan> faults,
        List<Happened> events,
        List<Outage> outages) {

    /**
     * A gateway that can't reach us.
     *
     * @param loses whether it has no store: what it read meanwhile never comes. Otherwise it comes afterwards.
     */
    public record Outage(String gateway, Instant from, Instant to, boolean loses) {
        /** Of a gateway that keeps its readings and sends them afterwards. */
        public Outage(String gateway, Instant from, Instant to) {
            this(gateway, from, to, false);
        }

        public boolean covers(Instant at) {
            return !at.isBefore(from) && at.isBefore(to);
        }
    }

    public FleetPlan {
        sites = List.copyOf(sites);
        faults = List.copyOf(faults);
        events = List.copyOf(events);
        outages = List.copyOf(outages);
        if (from.toEpochMilli() % 60_000 != 0) {
            throw new IllegalArgumentException("from must be a whole minute, was " + from);
        }
        long millis = sampling.toMillis();
        if (millis < 10_000 || millis % 10_000 != 0 || (60_000 % millis != 0 && millis % 60_000 != 0)) {
            throw new IllegalArgumentException("sampling must be 10, 20, 30 s or whole minutes, was " + sampling);
        }
        Set<String> known = new HashSet<>();
        for (SitePlan site : sites) {
            for (MachinePlan machine : site.machines()) {
                if (!known.add(machine.id())) {
                    throw new IllegalArgumentException("machine " + machine.id() + " is planned twice");
                }
            }
        }
        for (FaultPlan fault : faults) {
            if (!known.contains(fault.machine())) {
                throw new IllegalArgumentException("fault of " + fault.machine() + ", which is not planned");
            }
        }
    }

    /** The plan's machines and sites as the register says them. */
    public Register register() {
        List<Machine> machines = new ArrayList<>();
        List<Site> known = new ArrayList<>();
        for (SitePlan site : sites) {
            known.add(site.site());
            for (MachinePlan machine : site.machines()) {
                machines.add(machine.machine());
            }
        }
        return new Register(machines, known);
    }

    /** Whether what this gateway read at this time is lost. */
    boolean isLost(String gateway, long millis) {
        for (Outage outage : outages) {
            if (outage.loses()
                    && outage.gateway().equals(gateway)
                    && millis >= outage.from().toEpochMilli()
                    && millis < outage.to().toEpochMilli()) {
                return true;
            }
        }
        return false;
    }

    List<FaultPlan> faultsOf(String machine) {
        return faults.stream().filter(fault -> fault.machine().equals(machine)).toList();
    }
}
