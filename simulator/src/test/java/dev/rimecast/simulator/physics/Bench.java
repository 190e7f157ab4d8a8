package dev.rimecast.simulator.physics;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/** A machine on a bench at a fixed climate, run until its cycles repeat. */
final class Bench implements MachineEvents {
    private static final int SETTLING_CYCLES = 8;
    private static final int MEASURED_CYCLES = 6;

    final IceMachine machine;
    final Map<Channel, Double> sums = new EnumMap<>(Channel.class);
    final Map<Channel, Integer> counts = new EnumMap<>(Channel.class);
    Optional<StopReason> stop = Optional.empty();
    private final Surroundings place;
    private long now;
    private int harvests;
    private double plateMin = 99;
    private double condenserAtFreezeEnd;
    private Phase phase = Phase.OFF;
    private double condenserLast;

    /** Means over the measured cycles. */
    record Result(
            double pullDownMinutes,
            double freezeMinutes,
            double harvestSeconds,
            double condenserEnd,
            double split,
            double plateMin,
            double batchKg,
            double kgPerDay,
            double kwhPerKg,
            double drainLevelSeconds,
            double pumpRuns,
            double waterPerKg,
            double closure) {}

    Bench(Design design, Control control, DrainDesign drain, double air, double mains) {
        place = new Surroundings(air, mains);
        machine = new IceMachine(design, control, drain, place, Noise.none(), this);
    }

    static Bench usual(double air, double mains) {
        Design d = Design.ofRating(50);
        return new Bench(d, Control.USUAL, DrainDesign.pump(d, 0), air, mains);
    }

    Bench with(Consumer<Ailments> change) {
        change.accept(machine.ailments());
        machine.ailmentsChanged();
        return this;
    }

    Result measure() {
        run(SETTLING_CYCLES);
        sums.clear();
        counts.clear();
        machine.ledger().clear();
        plateMin = 99;
        condenserAtFreezeEnd = 0;
        machine.takeReleasedKg();
        double held = machine.heldJoules();
        long start = now;
        int begun = harvests;
        run(MEASURED_CYCLES);
        int n = Math.max(1, harvests - begun);
        double seconds = (now - start) / 1000.0;
        double kg = machine.takeReleasedKg();
        HeatLedger l = machine.ledger();
        double in = l.workJoules() + l.gainedJoules() + l.netWaterJoules();
        double closure = (in - l.rejectedJoules() - (machine.heldJoules() - held)) / l.rejectedJoules();
        return new Result(
                mean(Channel.PULL_DOWN_TIME) / 60,
                mean(Channel.FREEZE_TIME) / 60,
                mean(Channel.HARVEST_TIME),
                condenserAtFreezeEnd / n,
                condenserAtFreezeEnd / n - place.airCelsius(),
                plateMin,
                kg / n,
                kg / seconds * 86400,
                l.electricJoules() / 3.6e6 / kg,
                mean(Channel.DRAIN_LEVEL_TIME),
                counts.getOrDefault(Channel.DRAIN_RUN_TIME, 0) / (double) n,
                l.waterInKg() / kg,
                closure);
    }

    double mean(Channel channel) {
        return sum(channel) / counts.getOrDefault(channel, 1);
    }

    double sum(Channel channel) {
        return sums.getOrDefault(channel, Double.NaN);
    }

    void run(int cycles) {
        int until = harvests + cycles;
        long latest = now + cycles * 4_500_000L;
        while (harvests < until && now < latest && stop.isEmpty()) {
            condenserLast = machine.condenserCelsius();
            now += machine.step(now);
            if (phase == Phase.FREEZE) {
                plateMin = Math.min(plateMin, machine.plateCelsius());
            }
        }
    }

    void runSeconds(double seconds) {
        long until = now + (long) (seconds * 1000);
        while (now < until) {
            now += machine.step(now);
        }
    }

    @Override
    public void phase(long timeMillis, Phase next) {
        if (phase == Phase.HARVEST && next != Phase.HARVEST) {
            harvests++;
        }
        if (phase == Phase.FREEZE && next == Phase.HARVEST) {
            condenserAtFreezeEnd += condenserLast;
        }
        phase = next;
    }

    @Override
    public void duration(long timeMillis, Channel channel, double seconds) {
        sums.merge(channel, seconds, Double::sum);
        counts.merge(channel, 1, Integer::sum);
    }

    @Override
    public void drainLevel(long timeMillis, boolean bridged) {}

    @Override
    public void stopped(long timeMillis, StopReason reason) {
        stop = Optional.of(reason);
    }
}
