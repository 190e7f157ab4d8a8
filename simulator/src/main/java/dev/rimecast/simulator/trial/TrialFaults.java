package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.FleetPlan.Outage;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Set;

/** Gives out the causes by turns: to every second machine one, or one to a whole site. */
final class TrialFaults {
    private final Set<Cause> causes;
    private final Noise noise;
    private final OneFault one;
    private final Instant to;
    private final List<Cause> turn = new ArrayList<>();
    private final List<FaultPlan> faults = new ArrayList<>();
    private final List<Happened> events = new ArrayList<>();
    private final List<Outage> outages = new ArrayList<>();

    TrialFaults(Set<Cause> causes, Noise noise, Instant from, Instant to) {
        this.causes = causes;
        this.noise = noise;
        this.to = to;
        one = new OneFault(noise, from, to);
        another();
    }

    /** Gives a site its faults; returns it with what they need. */
    SitePlan give(SitePlan site) {
        if (causes.isEmpty()) {
            return site;
        }
        if (turn.isEmpty()) {
            another();
        }
        TrialFault next = TrialFault.of(turn.get(0)).orElseThrow();
        if (next.isOfSite() && site.machines().stream().allMatch(next::fits)) {
            turn.remove(0);
            giveToSite(next, site);
            return site;
        }
        List<MachinePlan> machines = new ArrayList<>(site.machines());
        List<Integer> order = new ArrayList<>();
        for (int i = 0; i < machines.size(); i++) {
            order.add(TrialFleet.pick(noise, order.size() + 1), i);
        }
        int faulty = (machines.size() + TrialFleet.pick(noise, 2)) / 2;
        for (int index : order.subList(0, faulty)) {
            giveToMachine(site, machines, index);
        }
        return new SitePlan(site.site(), site.kind(), site.climate(), machines, List.of());
    }

    /** Another round of all causes, in a new order, behind those that still wait for a machine that fits. */
    private void another() {
        int waiting = turn.size();
        for (Cause cause : Cause.values()) {
            if (causes.contains(cause)) {
                turn.add(waiting + TrialFleet.pick(noise, turn.size() - waiting + 1), cause);
            }
        }
    }

    private void giveToMachine(SitePlan site, List<MachinePlan> machines, int index) {
        if (!giveNext(site, machines, index)) {
            another();
            giveNext(site, machines, index);
        }
    }

    private boolean giveNext(SitePlan site, List<MachinePlan> machines, int index) {
        for (int i = 0; i < turn.size(); i++) {
            TrialFault fault = TrialFault.of(turn.get(i)).orElseThrow();
            MachinePlan machine = machines.get(index);
            if (fault.cause() == Cause.START_DELAY_SET) {
                machine = TrialFleet.nightly(machine);
            }
            if (!fault.isOfSite() && fault.fits(machine)) {
                turn.remove(i);
                machines.set(index, machine);
                FaultPlan plan = one.of(fault, site, machine);
                faults.add(plan);
                one.workBefore(fault, plan).ifPresent(events::add);
                return true;
            }
        }
        return false;
    }

    /** Every machine of the site has it; a room's kelvin are shared by them. */
    private void giveToSite(TrialFault fault, SitePlan site) {
        FaultPlan first = one.of(fault, site, site.machines().get(0));
        for (MachinePlan machine : site.machines()) {
            double share = fault.cause() == Cause.GATEWAY_LINK_DOWN
                    ? first.severity()
                    : first.severity() / site.machines().size();
            faults.add(new FaultPlan(machine.id(), fault.cause(), first.onset(), first.grows(), share, first.mended()));
        }
        if (fault.cause() == Cause.GATEWAY_LINK_DOWN) {
            String gateway = site.machines().get(0).machine().gateway();
            outages.add(new Outage(gateway, first.onset(), first.mended().orElse(to), true));
        }
    }

    List<FaultPlan> faults() {
        return Collections.unmodifiableList(faults);
    }

    List<Happened> events() {
        return Collections.unmodifiableList(events);
    }

    List<Outage> outages() {
        return Collections.unmodifiableList(outages);
    }
}
