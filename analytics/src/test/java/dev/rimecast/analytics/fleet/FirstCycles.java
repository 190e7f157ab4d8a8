package dev.rimecast.analytics.fleet;

import dev.rimecast.analytics.monitor.Recorded;
import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SiteBatch;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** A machine that is put up, with something wrong with it from the first minute or nothing: what is said of its first cycles. */
final class FirstCycles extends Recorded {
    static final String MACHINE = "ice-1";
    static final String SITE = "place";

    private final FleetPlan plan;
    private final SimulatedSite site;
    private final Policy policy;
    private SiteMonitor monitor;
    private Instant at;

    private FirstCycles(FleetPlan plan, MachinePlan machine, Policy policy) {
        this.plan = plan;
        this.site = new SimulatedFleet(plan).sites().get(0);
        this.policy = policy;
        this.monitor = SiteMonitor.fresh(SITE, policy);
        this.at = plan.from();
        monitor.accept(new SiteRecord.SiteChanged(plan.from(), Site.basic(SITE)), this);
        monitor.accept(new SiteRecord.Registered(plan.from(), machine.machine()), this);
    }

    /** @param severity in the measure of {@code FaultEffects} */
    static FirstCycles of(Model model, long seed, Policy policy, Optional<Cause> fault, double severity) {
        MachinePlan machine = model.machine(MACHINE, SITE, "gw", ChannelSet.FULL, 0.7);
        Instant from = TrialPlans.TO.plus(Duration.ofDays(37 * seed));
        List<FaultPlan> faults = fault
                .map(cause ->
                        FaultPlan.growing(MACHINE, cause, from.minus(Duration.ofDays(2)), Duration.ofDays(1), severity))
                .stream()
                .toList();
        FleetPlan plan = new FleetPlan(
                seed,
                from,
                from.plus(Duration.ofDays(4)),
                Duration.ofSeconds(60),
                List.of(TrialPlans.site(
                        SITE, SiteKind.values()[(int) (seed % SiteKind.values().length)], List.of(machine), List.of())),
                faults,
                List.of(),
                List.of());
        return new FirstCycles(plan, machine, policy);
    }

    FirstCycles live(Duration time) {
        for (Instant until = at.plus(time); at.isBefore(until) && at.isBefore(plan.to()); ) {
            at = at.plusSeconds(60);
            SiteBatch batch = site.advanceTo(at);
            if (!batch.readings().isEmpty()) {
                monitor.accept(new SiteRecord.Pack("gw", Optional.empty(), at, batch.readings(), 0), this);
            }
            monitor.accept(new SiteRecord.Tick(at), this);
        }
        return this;
    }

    /** Until nothing more is said of its first cycles, at most so long. */
    FirstCycles liveThrough(Duration most) {
        for (Instant until = at.plus(most); at.isBefore(until) && !isOver(); ) {
            live(Duration.ofHours(2));
        }
        return this;
    }

    FirstCycles happened(SiteRecord.Happened event) {
        monitor.accept(event, this);
        return this;
    }

    /** Saves it and goes on from what was saved. */
    FirstCycles restart() {
        monitor.saveTouched(this::keep);
        monitor = SiteMonitor.restore(SITE, states);
        return this;
    }

    Instant now() {
        return at;
    }

    Policy policy() {
        return policy;
    }

    private boolean isOver() {
        return said().reduce((first, last) -> last).filter(Acceptance::isLast).isPresent();
    }

    List<Acceptance> all() {
        return said().toList();
    }

    private java.util.stream.Stream<Acceptance> said() {
        return cycles.stream().map(Cycle::acceptance).flatMap(Optional::stream);
    }

    Acceptance last() {
        return said().reduce((first, last) -> last)
                .orElseThrow(() -> new AssertionError("nothing was said of the first cycles"));
    }
}
