package dev.rimecast.analytics.fourthfleet;

import static dev.rimecast.analytics.fourthfleet.FaultKind.DRAIN_BLOCKED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.DRAIN_PUMP_FAILED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.LEVEL_PROBES_FOULED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.WASTE_HOSE_KINKED;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;

/** A small tank with level probes and a pump; a level signal of more than 6 s is too long, two in a row stop the machine. */
final class Drain {
    static final double LIMIT_SECONDS = 6;
    private static final long PERMANENT_WAIT_SECONDS = 3600;
    private static final long OVERRUN_WAIT_SECONDS = 2700;

    private final Traits traits;
    private final Ailment ailment;
    private final PhaseClock clock;
    private final Water water;
    private final Protection protection;
    private final Chance chance;
    private final Told told;
    private final double runOnSeconds;
    private long busyUntil;
    private int overruns;
    private boolean signalStays;

    Drain(Plant plant, PhaseClock clock, Protection protection, double runOnSeconds, Chance chance, Told told) {
        this.traits = plant.traits;
        this.ailment = plant.ailment;
        this.clock = clock;
        this.water = plant.water;
        this.protection = protection;
        this.runOnSeconds = runOnSeconds;
        this.chance = chance;
        this.told = told;
    }

    void second(long t) {
        if (!traits.group.hasDrainPump) {
            water.wasteKg = 0;
            return;
        }
        if (t < busyUntil) {
            return;
        }
        boolean level = water.wasteKg >= traits.drainTankKg;
        boolean fouled = ailment.is(LEVEL_PROBES_FOULED);
        double fouling = ailment.of(LEVEL_PROBES_FOULED);
        boolean bridged = fouled && fouling > .62 && chance.hit(fouling * .00003);
        boolean falseSignal = fouled && chance.hit(.00008 * ailment.grown());
        if (!level && !falseSignal) {
            return;
        }
        if (level) {
            water.wasteKg -= traits.drainTankKg;
        }
        long from = t * 1000 + chance.below(900);
        if (ailment.is(DRAIN_PUMP_FAILED) || bridged) {
            stay(t, from);
        } else {
            run(t, from, levelSeconds(fouling));
        }
    }

    private double levelSeconds(double fouling) {
        double narrowed = ailment.of(DRAIN_BLOCKED) + ailment.of(WASTE_HOSE_KINKED);
        double seconds = traits.drainLevelSeconds * chance.about(.07, 2.5) / (1 - narrowed);
        seconds *= clock.is(Phase.HARVEST) ? 1.06 : 1;
        return seconds + fouling * chance.between(.5, 7);
    }

    /** The water does not go, or the probes say so: the signal comes and does not end. */
    private void stay(long t, long from) {
        if (!signalStays) {
            told.flag(Channel.DRAIN_LEVEL, from, true);
        }
        signalStays = true;
        busyUntil = t + 1200;
        if (!isAtRest()) {
            protection.trip(t, PERMANENT_WAIT_SECONDS);
        }
    }

    private void run(long t, long from, double seconds) {
        if (signalStays) {
            signalStays = false;
            told.flag(Channel.DRAIN_LEVEL, Math.max(from - 200, t * 1000), false);
        }
        long to = from + (long) (seconds * 1000);
        told.flag(Channel.DRAIN_LEVEL, from, true);
        told.flag(Channel.DRAIN_LEVEL, to, false);
        told.number(Channel.DRAIN_LEVEL_TIME, to + 5, hundredths(seconds));
        told.number(Channel.DRAIN_RUN_TIME, to + 10 + (long) (runOnSeconds * 1000), hundredths(seconds + runOnSeconds));
        busyUntil = t + (long) seconds + 4 + (long) runOnSeconds;
        if (seconds <= LIMIT_SECONDS) {
            overruns = 0;
            return;
        }
        overruns++;
        if (ailment.is(DRAIN_BLOCKED) || ailment.is(WASTE_HOSE_KINKED) || ailment.is(LEVEL_PROBES_FOULED)) {
            ailment.stop(t + 6);
        }
        if (overruns >= 2 && !isAtRest() && !protection.isLocked()) {
            overruns = 0;
            protection.trip(t, OVERRUN_WAIT_SECONDS);
        }
    }

    private boolean isAtRest() {
        return clock.is(Phase.STOPPED) || clock.is(Phase.OFF) || clock.is(Phase.CLEAN);
    }

    private static double hundredths(double value) {
        return Math.round(value * 100) / 100.0;
    }

    void forget() {
        overruns = 0;
    }
}
