package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayDeque;
import java.util.Deque;

/** Cleanings and filter washes of one machine, and the slow dust and scale between them. */
final class Upkeep {
    private static final double MOST_DUST = .12;
    private static final double MOST_SCALE = .15;
    private static final long FIXED_SECONDS = 3600;
    private static final long LATEST_CLEANING_SECONDS = 6 * 3600;

    private final MachineDraft draft;
    private final Plant plant;
    private final Ailment ailment;
    private final PhaseClock clock;
    private final Controls controls;
    private final Chance chance;
    private final Logbook logbook;
    private final Deque<Long> cleanings;
    private double cleaningSeconds = FIXED_SECONDS;
    private long nextWash;

    Upkeep(MachineDraft draft, Plant plant, PhaseClock clock, Controls controls, Chance chance, Logbook logbook) {
        this.draft = draft;
        this.plant = plant;
        this.ailment = plant.ailment;
        this.clock = clock;
        this.controls = controls;
        this.chance = chance;
        this.logbook = logbook;
        this.cleanings = new ArrayDeque<>(draft.cleanings);
        this.nextWash = draft.care.firstWash();
        plant.soil.dust = draft.care.firstDust();
        plant.soil.scale = draft.care.firstScale();
    }

    /** Starts and ends cleanings. */
    void second(long t, boolean switchedOff) {
        if (!cleanings.isEmpty() && t >= cleanings.getFirst() && !switchedOff) {
            begin(t, cleanings.removeFirst());
        }
        boolean left = ailment.is(FaultKind.LEFT_IN_CLEANING);
        if (clock.is(Phase.CLEAN) && !left && clock.seconds(t) > cleaningSeconds) {
            plant.soil.scale *= .15;
            plant.soil.dust *= draft.care.washesFilter() ? .3 : 1;
            if (draft.logsCleanings) {
                logbook.tell(t, draft.id, EventKind.CLEANED, "", "site");
            }
            controls.start(t);
            clock.enter(Phase.WAIT, t - 180);
        }
    }

    private void begin(long t, long planned) {
        if (t - planned >= LATEST_CLEANING_SECONDS || clock.is(Phase.STOPPED)) {
            return;
        }
        clock.enter(Phase.CLEAN, t);
        cleaningSeconds = ailment.fault.kind().followsCleaning() ? FIXED_SECONDS : chance.between(2700, 4500);
        plant.water.stopFilling();
        plant.evaporator.takeIce();
    }

    void hour(long t, boolean open) {
        plant.soil.dust = Math.min(MOST_DUST, plant.soil.dust + draft.care.dustPerDay() / 24);
        plant.soil.scale = Math.min(MOST_SCALE, plant.soil.scale + draft.care.scalePerDay() / 24);
        if (t < nextWash || !open) {
            return;
        }
        nextWash = t + (long) (draft.care.washEveryDays() * 86_400 * chance.between(.8, 1.2));
        if (draft.care.washesFilter() && !draft.traits.group.isWaterCooled()) {
            plant.soil.dust *= .25;
            if (chance.hit(.75)) {
                logbook.tell(t + chance.below(3000), draft.id, EventKind.AIR_FILTER_WASHED, "", "site");
            }
        }
    }
}
