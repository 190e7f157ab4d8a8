package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.physics.Noise;
import dev.rimecast.simulator.place.Room;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Those who use the ice: they take scoops by the hour of the week, from the neighbour's bin when theirs is empty, call
 * when there is none, and switch a stopped machine off and on.
 */
final class People {
    private static final double SCOOP_KG = 0.7;
    private static final double MISSED_KG_BEFORE_CALL = 4;
    private static final long BETWEEN_CALLS_MILLIS = 24 * 3_600_000L;
    private static final double RESTARTS_PER_HOUR = 0.12;

    private final Noise noise;
    private final SitePlan plan;
    private final List<SimulatedMachine> machines;
    private final double[] missedKg;
    private long calledAt = Long.MIN_VALUE / 2;
    private double mood = 1;

    People(Noise noise, SitePlan plan, List<SimulatedMachine> machines) {
        this.noise = noise;
        this.plan = plan;
        this.machines = machines;
        missedKg = new double[machines.size()];
    }

    void minute(long millis, Room room, List<Happened> events) {
        if (room.minuteOfDay(millis) == 0) {
            mood = noise.factor(0.15);
        }
        double use = room.use(millis) * mood * plan.useFactor(millis);
        for (int i = 0; i < machines.size(); i++) {
            SimulatedMachine machine = machines.get(i);
            double scoopsPerMinute = plan.machines().get(i).kgPerDay() * use / 1440 / SCOOP_KG;
            double draw = noise.uniform();
            if (draw < scoopsPerMinute) {
                scoop(i, machine, SCOOP_KG * Math.max(1, scoopsPerMinute));
            }
            if (machine.isLockedOut() && use > 0.3 && noise.uniform() < RESTARTS_PER_HOUR / 60) {
                machine.reset(millis);
            }
            // Nobody calls for ice while there is some: the last call may have been too recent when it was missing.
            boolean isEmpty = machine.bin().kg() < SCOOP_KG;
            if (isEmpty && missedKg[i] > MISSED_KG_BEFORE_CALL && millis - calledAt > BETWEEN_CALLS_MILLIS) {
                calledAt = millis;
                missedKg[i] = 0;
                events.add(new Happened(
                        Instant.ofEpochMilli(millis), Optional.of(machine.id()), EventKind.CALL, "no-ice", "site", ""));
            }
        }
    }

    private void scoop(int index, SimulatedMachine machine, double wanted) {
        double missing = wanted - machine.bin().take(wanted);
        if (missing > 0) {
            double stillMissing = missing;
            missing -= machines.stream()
                    .max(Comparator.comparingDouble(m -> m.bin().kg()))
                    .map(m -> m.bin().take(stillMissing))
                    .orElse(0.0);
        }
        missedKg[index] = missing > 0 ? missedKg[index] + missing : Math.max(0, missedKg[index] - 0.02);
    }
}
