package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.machine.Phase;
import java.time.Instant;
import java.util.Optional;
import java.util.OptionalLong;

/** One machine that lives: all its parts, moved on together each second. */
final class FleetMachine {
    final MachineDraft draft;
    final Surroundings around;
    final Ailment ailment;
    final Plant plant;
    final Probes probes;
    final Controls controls;
    private final PhaseClock clock;
    private final Protection protection;
    private final Drain drain;
    private final Upkeep upkeep;
    private final Repairs repairs;

    FleetMachine(MachineDraft draft, Surroundings around, long start, Chance chance, Told told) {
        this.draft = draft;
        this.around = around;
        ailment = new Ailment(draft.fault);
        clock = new PhaseClock(start);
        Bin bin = new Bin(draft.use.binKg(), draft.use.firstBinKg(), ailment);
        plant = new Plant(draft.traits, ailment, clock, new CycleScatter(chance.split()), bin, around);
        probes = Probes.draw(ailment, chance.split(), around.roomCelsius, plant.water.pipeCelsius);
        protection = new Protection(clock, plant.water, ailment, chance.split());
        controls = new Controls(clock, plant, probes, protection, told);
        drain = new Drain(plant, clock, protection, draft.drainRunOnSeconds, chance.split(), told);
        Logbook logbook = draft.site.logbook;
        upkeep = new Upkeep(draft, plant, clock, controls, chance.split(), logbook);
        repairs = new Repairs(draft.id, plant, clock, controls, protection, chance.split(), logbook);
    }

    Phase phase() {
        return clock.phase();
    }

    void second(long t) {
        ailment.second(t);
        double recirculation = recirculation();
        boolean off = around.switchedOff || ailment.is(FaultKind.POWER_OFF);
        power(t, off);
        upkeep.second(t, off);
        plant.water.wasteKg += plant.bin.second(around.drawnKgPerSecond, around.roomCelsius);
        plant.water.second(around, clock.is(Phase.FREEZE) || clock.is(Phase.REDUCED));
        controls.fill(t);
        plant.second(t, around, recirculation);
        probes.second(plant, around, recirculation);
        controls.second(t);
        drain.second(t);
        if (t % 3600 == 0) {
            upkeep.hour(t, around.open);
            if (repairs.hour(t)) {
                drain.forget();
            }
        }
        ailment.watchDeadline(t, !off && !plant.bin.isFull() && !clock.is(Phase.CLEAN));
    }

    /** Warm air that comes round to the condenser again: a little from most machines, much behind a blocked grille. */
    private double recirculation() {
        double blocked = ailment.of(FaultKind.HOT_AIR_RECIRCULATING);
        return clock.isRunning() ? draft.traits.ownRecirculationKelvin + blocked : .15 * blocked;
    }

    private void power(long t, boolean off) {
        if (off && !clock.is(Phase.OFF)) {
            clock.enter(Phase.OFF, t);
            plant.water.stopFilling();
        } else if (!off && clock.is(Phase.OFF)) {
            clock.enter(Phase.WAIT, t);
            plant.evaporator.takeIce();
            protection.unlock();
            plant.water.loseAbove(draft.traits.retainedShare);
            plant.water.fill(t);
        }
    }

    TruthRow truth(long end) {
        if (draft.isSound()) {
            return new TruthRow(draft.id, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
        }
        OptionalLong stopped = ailment.stopped();
        return new TruthRow(
                draft.id,
                draft.fault.kind().cause(),
                Optional.of(Instant.ofEpochSecond(draft.fault.onset())),
                stopped.isPresent() ? Optional.of(Instant.ofEpochSecond(stopped.getAsLong())) : Optional.empty(),
                Optional.of(Instant.ofEpochSecond(ailment.deadline(end))));
    }
}
