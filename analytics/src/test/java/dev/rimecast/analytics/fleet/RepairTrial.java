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
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.Set;

/**
 * One machine with one fault, an engineer who comes once it was found, and 31 days after that: what the proof of fix says, and
 * what is true.
 */
final class RepairTrial extends Recorded {
    private static final String MACHINE = "ice-1";
    private static final int DAYS_BEFORE = 34;
    private static final int DAYS_AFTER = 31;
    private static final Instant WORKED =
            TrialPlans.TO.minus(Duration.ofDays(DAYS_AFTER)).plus(Duration.ofHours(10));
    /** What the machine suffers from is found by then. */
    private static final Duration GREW = Duration.ofDays(14);

    /** What the engineer did. */
    enum Work {
        MENDED,
        /** Written down as mended, and nothing has changed. */
        NOTHING,
        /** A leak that was topped up: cured for the day, and back in a month. */
        TOPPED_UP
    }

    /** Causes with the severity that the trial gives them, in the measure of {@code FaultEffects}. */
    private enum Trouble {
        AIRFLOW(Cause.AIRFLOW_RESTRICTED, 0.55),
        FAN(Cause.FAN_WEAK, 0.55),
        SCALE(Cause.SCALE, 1.8),
        PUMP(Cause.CIRCULATION_PUMP_WEAK, 0.6),
        DRAIN(Cause.DRAIN_BLOCKED, 0.6),
        PROBES(Cause.LEVEL_PROBES_FOULED, 4),
        CHARGE(Cause.LOW_CHARGE, 0.4),
        HOT_GAS(Cause.HOT_GAS_VALVE_LEAKING, 0.2),
        COMPRESSOR(Cause.COMPRESSOR_WEAK, 0.4);

        private final Cause cause;
        private final double severity;

        /** Every second fault is hardly worth a visit: half as bad. */
        double severity(long seed) {
            return (seed / 9) % 2 == 0 ? severity : severity / 2;
        }

        Trouble(Cause cause, double severity) {
            this.cause = cause;
            this.severity = severity;
        }
    }

    private static final Set<Trouble> OF_DRAIN = EnumSet.of(Trouble.DRAIN, Trouble.PROBES);

    final Cause cause;
    final Work work;
    int largestState;

    private RepairTrial(Cause cause, Work work) {
        this.cause = cause;
        this.work = work;
    }

    /** Another machine, fault and day for every seed. */
    static RepairTrial of(long seed, Work work) {
        return of(seed, work, ChannelSet.FULL, false);
    }

    /**
     * @param channels what the machine tells
     * @param restarts whether its monitor is saved and restored once a day, and right after the work
     */
    static RepairTrial of(long seed, Work work, ChannelSet channels, boolean restarts) {
        Random random = new Random(seed);
        Trouble trouble = work == Work.TOPPED_UP ? Trouble.CHARGE : Trouble.values()[(int) (seed % 9)];
        Model model = Model.values()[random.nextInt(Model.values().length)];
        MachinePlan machine = model.machine(MACHINE, "place", "gw", channels, 0.45 + 0.2 * random.nextDouble());
        boolean hasPump = machine.machine().drainKind() == DrainKind.PUMP;
        if (OF_DRAIN.contains(trouble) && !hasPump) {
            trouble = Trouble.AIRFLOW;
        }
        RepairTrial trial = new RepairTrial(trouble.cause, work);
        trial.live(machine, trial.faults(trouble, trouble.severity(seed)), seed, restarts);
        return trial;
    }

    private List<FaultPlan> faults(Trouble trouble, double severity) {
        Instant onset = WORKED.minus(GREW);
        FaultPlan fault = FaultPlan.growing(MACHINE, trouble.cause, onset, Duration.ofDays(12), severity);
        return switch (work) {
            case MENDED -> List.of(fault.mendedAt(WORKED));
            case NOTHING -> List.of(fault);
            case TOPPED_UP ->
                List.of(
                        fault.mendedAt(WORKED),
                        FaultPlan.growing(MACHINE, trouble.cause, WORKED, Duration.ofDays(30), severity));
        };
    }

    private void live(MachinePlan machine, List<FaultPlan> faults, long seed, boolean restarts) {
        FleetPlan plan = new FleetPlan(
                seed,
                WORKED.minus(Duration.ofDays(DAYS_BEFORE)),
                WORKED.plus(Duration.ofDays(DAYS_AFTER)),
                Duration.ofSeconds(60),
                List.of(TrialPlans.site(
                        "place",
                        SiteKind.values()[(int) (seed % SiteKind.values().length)],
                        List.of(machine),
                        List.of())),
                faults,
                List.of(),
                List.of());
        SimulatedSite site = new SimulatedFleet(plan).sites().get(0);
        SiteMonitor monitor = SiteMonitor.fresh("place", Policy.standard());
        monitor.accept(new SiteRecord.SiteChanged(plan.from(), Site.basic("place")), this);
        monitor.accept(new SiteRecord.Registered(plan.from(), machine.machine()), this);
        boolean isWritten = false;
        for (Instant at = plan.from().plusSeconds(60); !at.isAfter(plan.to()); at = at.plusSeconds(60)) {
            SiteBatch batch = site.advanceTo(at);
            if (!batch.readings().isEmpty()) {
                monitor.accept(new SiteRecord.Pack("gw", Optional.empty(), at, batch.readings(), 0), this);
            }
            monitor.accept(new SiteRecord.Tick(at), this);
            if (restarts && at.getEpochSecond() % 86_400 == 11 * 3_600) {
                monitor = restarted(monitor);
            }
            if (!isWritten && !at.isBefore(WORKED)) {
                isWritten = true;
                monitor.accept(
                        new SiteRecord.Happened(
                                WORKED, Optional.of(MACHINE), EventKind.VISIT, cause.code(), "engineer", ""),
                        this);
                if (cause.origin() == Cause.Origin.PART || cause == Cause.FAN_WEAK) {
                    monitor.accept(
                            new SiteRecord.Happened(
                                    WORKED,
                                    Optional.of(MACHINE),
                                    EventKind.PART_REPLACED,
                                    cause == Cause.FAN_WEAK ? "fan" : cause.code(),
                                    "engineer",
                                    ""),
                            this);
                }
            }
        }
    }

    private SiteMonitor restarted(SiteMonitor monitor) {
        monitor.saveTouched(this::keep);
        largestState = Math.max(largestState, Objects.requireNonNull(states.get(MACHINE)).length);
        return SiteMonitor.restore("place", states);
    }

    /** Whether the machine was called faulty when the engineer came. */
    boolean wasFound() {
        return !proofs.isEmpty() && !proofs.get(0).about().isEmpty();
    }

    /** What was said at a look, or at the last one before it where it ended sooner. */
    Optional<Verdict> verdict(Check check) {
        return proofs.stream()
                .filter(proof -> proof.check().compareTo(check) <= 0)
                .reduce((first, last) -> last)
                .filter(proof -> proof.check() == check || proof.isLast())
                .map(Proof::verdict);
    }

    Verdict last() {
        return proofs.get(proofs.size() - 1).verdict();
    }

    boolean shouldHold() {
        return work == Work.MENDED;
    }

    List<Condition> about() {
        return proofs.get(0).about();
    }

    @Override
    public String toString() {
        return cause.code() + ' ' + work + ' ' + (wasFound() ? about() : "not found") + " ten "
                + verdict(Check.TEN_CYCLES).map(Verdict::code).orElse("-") + " week "
                + verdict(Check.SEVEN_DAYS).map(Verdict::code).orElse("-") + " last "
                + (proofs.isEmpty() ? "-" : last().code());
    }
}
