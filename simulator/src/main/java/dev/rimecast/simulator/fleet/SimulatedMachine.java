package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.FaultEffects;
import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.physics.Ailment;
import dev.rimecast.simulator.physics.Ailments;
import dev.rimecast.simulator.physics.Design;
import dev.rimecast.simulator.physics.DrainDesign;
import dev.rimecast.simulator.physics.IceMachine;
import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.simulator.physics.Surroundings;
import dev.rimecast.simulator.place.IceBin;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalLong;

/** One machine with its bin, its faults and its gateway's probes. Stepped by its site, a minute at a time. */
final class SimulatedMachine {
    private static final long FAULTS_MILLIS = 60_000;
    /** How many times faster ice melts in a bin that stands open; plausible, from no measurement. */
    private static final double OPEN_LID_MELTS = 6;

    private static final double AMBIENT_PROBE_SEES_OF_RECIRCULATION = 0.3;

    private final MachinePlan plan;
    private final List<FaultPlan> faults;
    private final Map<FaultPlan, Instant> stops = new HashMap<>();
    private final Surroundings place;
    private final IceMachine machine;
    private final Recorder recorder;
    private final IceBin bin;
    private final long samplingMillis;
    private boolean lidOpen;
    private long faultsAt = Long.MIN_VALUE;
    private boolean wasFaulty;

    SimulatedMachine(FleetPlan fleet, MachinePlan plan, double airCelsius, double waterCelsius) {
        this.plan = plan;
        faults = new ArrayList<>(fleet.faultsOf(plan.id()));
        samplingMillis = fleet.sampling().toMillis();
        Noise build = Noise.of(fleet.seed(), plan.id() + "/build");
        Design design = Design.ofRating(plan.machine().ratedKgPerDay())
                .jittered(build.factor(0.03), build.factor(0.03), build.factor(0.05), build.factor(0.03));
        if (plan.fanCycles()) {
            design = design.withFanCycling();
        }
        double runOn = plan.machine().limits().drainRunOnSeconds().orElse(0);
        DrainDesign drain = plan.machine().drainKind() == DrainKind.PUMP
                ? DrainDesign.pump(design, runOn)
                : DrainDesign.gravity(design);
        Sensors sensors = new Sensors(
                Noise.of(fleet.seed(), plan.id() + "/probes"), plan.channels().stepKelvin());
        recorder = new Recorder(
                plan.id(), plan.channels(), Double.isFinite(plan.control().drainLimitSeconds()), sensors);
        place = new Surroundings(airCelsius, waterCelsius);
        Noise cycles = Noise.of(fleet.seed(), plan.id() + "/cycles");
        machine = new IceMachine(design, plan.control(), drain, place, cycles, recorder);
        bin = new IceBin(plan.machine().binKg(), plan.machine().binKg() * build.uniform(0.4, 0.95));
    }

    String id() {
        return plan.id();
    }

    MachinePlan plan() {
        return plan;
    }

    IceBin bin() {
        return bin;
    }

    /** Whether it will not try again by itself. */
    boolean isLockedOut() {
        return machine.isLockedOut();
    }

    void reset(long millis) {
        machine.reset(millis);
    }

    void openLid(boolean open) {
        lidOpen = open;
        place.lid(open);
    }

    void startCleaning(long millis) {
        machine.startCleaning(millis);
    }

    /** K that this machine's faults say of the whole room. */
    double roomKelvin(long millis) {
        double kelvin = 0;
        for (FaultPlan fault : faults) {
            kelvin += FaultEffects.roomKelvin(fault.cause(), fault.developed(millis) * fault.severity());
        }
        return kelvin;
    }

    /** Runs from {@code from} to {@code to}, a whole number of minutes later. */
    void run(long from, long to, double airCelsius, double waterCelsius, int minuteOfDay) {
        faults(from, minuteOfDay);
        place.climate(airCelsius, waterCelsius);
        machine.melt(bin.melt((lidOpen ? OPEN_LID_MELTS : 1) * (to - from) / 1000.0, airCelsius));
        double seen = airCelsius
                + AMBIENT_PROBE_SEES_OF_RECIRCULATION * machine.ailments().get(Ailment.RECIRCULATION_KELVIN);
        boolean open = machine.ailments().is(Ailment.EVAPORATOR_PROBE_OPEN);
        long now = from;
        while (now < to) {
            place.bin(bin.isFull(), bin.kg() > 0.5);
            now += machine.step(now);
            bin.add(machine.takeReleasedKg());
            if (now % samplingMillis == 0) {
                recorder.sample(now, machine, open, seen, waterCelsius);
            }
        }
        OptionalLong stop = recorder.takeStop();
        if (stop.isPresent()) {
            noteStop(stop.getAsLong());
        }
    }

    private void faults(long millis, int minuteOfDay) {
        if (millis - faultsAt < FAULTS_MILLIS && faultsAt != Long.MIN_VALUE) {
            return;
        }
        faultsAt = millis;
        Ailments ailments = machine.ailments();
        ailments.clear();
        boolean faulty = false;
        boolean swapped = false;
        for (FaultPlan fault : faults) {
            double developed = fault.developed(millis);
            if (developed > 0) {
                faulty = true;
                swapped |= fault.cause() == Cause.PROBES_SWAPPED;
                FaultEffects.apply(fault.cause(), developed * fault.severity(), ailments);
            }
        }
        if (plan.night().isPresent() && plan.night().get().covers(minuteOfDay)) {
            ailments.with(Ailment.POWER_OFF, 1);
        }
        recorder.swapProbes(swapped);
        machine.ailmentsChanged();
        if (wasFaulty && !faulty && machine.isLockedOut()) {
            machine.reset(millis);
        }
        wasFaulty = faulty;
    }

    /** A stop belongs to the fault that has come furthest. */
    private void noteStop(long millis) {
        faults.stream()
                .filter(fault -> fault.developed(millis) > 0)
                .max((a, b) -> Double.compare(a.developed(millis), b.developed(millis)))
                .ifPresent(fault -> stops.putIfAbsent(fault, Instant.ofEpochMilli(millis)));
    }

    /** What has begun by then and nobody has mended. */
    List<FaultPlan> wrongAt(Instant at) {
        return faults.stream()
                .filter(fault -> fault.developed(at.toEpochMilli()) > 0)
                .toList();
    }

    /** Puts right what is wrong; the plan may have had that for later. */
    void mend(FaultPlan fault, Instant at) {
        FaultPlan mended = fault.mendedAt(at);
        faults.set(faults.indexOf(fault), mended);
        Instant stop = stops.remove(fault);
        if (stop != null) {
            stops.put(mended, stop);
        }
    }

    List<Reading> takeReadings() {
        return recorder.take();
    }

    /** What is true by now of this machine. */
    List<Truth> truth() {
        if (faults.isEmpty()) {
            return List.of(Truth.sound(plan.id()));
        }
        List<Truth> rows = new ArrayList<>();
        for (FaultPlan fault : faults) {
            rows.add(Truth.of(fault, Optional.ofNullable(stops.get(fault))));
        }
        return rows;
    }
}
