package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Phase;

/** The machine's own control: phases, what ends each of them, and what stops the machine. Limits are common practice. */
final class Controls {
    static final double PULL_DOWN_LIMIT_SECONDS = 900;
    static final long START_DELAY_SECONDS = 300;
    private static final double LONGEST_FREEZE_SECONDS = 3600;
    private static final double SHORTEST_LEVEL_FREEZE_SECONDS = 360;
    private static final double TIMED_FREEZE_SECONDS = 1200;
    private static final double TIMED_HARVEST_SECONDS = 360;
    private static final double LONGEST_HARVEST_SECONDS = 540;
    private static final double SHORTEST_HARVEST_SECONDS = 45;
    private static final double HARVEST_END_CELSIUS = 9;
    private static final double CUT_OUT_ABOVE_LIMIT_KELVIN = 1;

    private final PhaseClock clock;
    private final Plant plant;
    private final Traits traits;
    private final Ailment ailment;
    private final Probes probes;
    private final Protection protection;
    private final Told told;
    private double crossedAfter = -1;
    private double timerFrom = -1;
    private int failedHarvests;
    private int longFreezes;
    double madeKg;

    Controls(PhaseClock clock, Plant plant, Probes probes, Protection protection, Told told) {
        this.clock = clock;
        this.plant = plant;
        this.traits = plant.traits;
        this.ailment = plant.ailment;
        this.probes = probes;
        this.protection = protection;
        this.told = told;
    }

    /** Ends a fill that is due. */
    void fill(long t) {
        switch (plant.water.check(t, clock.is(Phase.WAIT))) {
            case DONE -> told.number(Channel.FILL_TIME, t * 1000 + 100, plant.water.fillSeconds(t));
            case TIMED_OUT -> protection.trip(t, 1800);
            case NONE, GOING -> {}
        }
    }

    void second(long t) {
        switch (clock.phase()) {
            case OFF, CLEAN -> {}
            case WAIT -> waiting(t);
            case FILL -> filling(t);
            case IDLE -> idle(t);
            case FREEZE -> freezing(t);
            case HARVEST -> harvesting(t);
            case REDUCED -> reduced(t);
            case STOPPED -> stopped(t);
        }
        double limit = traits.group.care.condensingLimitCelsius() + CUT_OUT_ABOVE_LIMIT_KELVIN;
        if (plant.isCompressing() && plant.condenser.celsius > limit && !clock.is(Phase.STOPPED)) {
            stop(t, 1800);
        }
    }

    private void stop(long t, long waitSeconds) {
        protection.trip(t, waitSeconds);
        plant.evaporator.takeIce();
    }

    /** From power-on, a stop or a cleaning to the first cycle. */
    void start(long t) {
        clock.enter(Phase.WAIT, t);
        plant.water.dumpAndFill(t);
    }

    private void waiting(long t) {
        boolean ready = clock.seconds(t) >= START_DELAY_SECONDS && !plant.water.isFilling();
        if (!ready || ailment.is(FaultKind.CONTROLLER_FAILED)) {
            return;
        }
        if (plant.bin.isFull()) {
            clock.enter(Phase.IDLE, t);
        } else if (plant.water.sumpKg < traits.sumpKg * .6
                && !ailment.is(FaultKind.SUMP_PLUG_OFF)
                && traits.group.fillsByLevel()
                && clock.seconds(t) < 1200) {
            plant.water.fill(t);
        } else {
            freeze(t);
        }
    }

    private void filling(long t) {
        if (!plant.water.isFilling()) {
            freeze(t);
        }
    }

    private void idle(long t) {
        if (plant.bin.isFull() || clock.seconds(t) <= 120 || ailment.is(FaultKind.CONTROLLER_FAILED)) {
            return;
        }
        if (plant.water.sumpKg < traits.sumpKg * .9) {
            plant.water.dumpAndFill(t);
            clock.enter(Phase.FILL, t);
        } else {
            freeze(t);
        }
    }

    private void freeze(long t) {
        clock.enter(Phase.FREEZE, t);
        crossedAfter = -1;
        timerFrom = -1;
        plant.cycle.nextFreeze();
        plant.evaporator.holdIce();
    }

    private void freezing(long t) {
        double seconds = clock.seconds(t);
        if (probes.isEvaporatorKnownBad()) {
            clock.enter(Phase.REDUCED, t);
            plant.evaporator.takeIce();
            return;
        }
        if (ailment.is(FaultKind.CONTROLLER_FAILED) && seconds > 600) {
            protection.hang(t);
            return;
        }
        double shown = probes.controlCelsius();
        if (crossedAfter < 0 && shown <= 0) {
            crossedAfter = seconds;
            told.number(Channel.PULL_DOWN_TIME, t * 1000 + 50, seconds);
        }
        boolean watched = !traits.group.freezesBy(EndsBy.TIME) || ailment.is(FaultKind.COMPRESSOR_NOT_STARTING);
        if (crossedAfter < 0 && seconds > PULL_DOWN_LIMIT_SECONDS && watched) {
            stop(t, 1200);
            return;
        }
        boolean longest = seconds >= LONGEST_FREEZE_SECONDS;
        if (freezeIsOver(seconds, shown) || longest) {
            endFreeze(t, longest);
        }
    }

    private boolean freezeIsOver(double seconds, double shown) {
        double batch = traits.batchKg * plant.cycle.mass;
        return switch (traits.group.ends.freeze) {
            case TEMPERATURE -> {
                if (timerFrom < 0 && shown <= traits.freezeEndCelsius) {
                    timerFrom = seconds;
                }
                yield timerFrom >= 0 && seconds - timerFrom >= traits.freezeTimerSeconds;
            }
            case LEVEL -> plant.water.sumpKg <= traits.sumpKg - batch && seconds > SHORTEST_LEVEL_FREEZE_SECONDS;
            case THICKNESS -> plant.evaporator.iceKg >= batch;
            case TIME -> seconds >= TIMED_FREEZE_SECONDS;
        };
    }

    private void endFreeze(long t, boolean longest) {
        told.number(Channel.FREEZE_TIME, t * 1000 + 60, clock.seconds(t));
        longFreezes = longest ? longFreezes + 1 : 0;
        if (longFreezes >= 3) {
            longFreezes = 0;
            stop(t, 2400);
            return;
        }
        clock.enter(Phase.HARVEST, t);
        plant.evaporator.holdIce();
        plant.cycle.nextHarvest();
        plant.water.dumpAndFill(t);
    }

    private void harvesting(long t) {
        if (probes.isEvaporatorKnownBad()) {
            clock.enter(Phase.REDUCED, t);
            return;
        }
        double seconds = clock.seconds(t);
        boolean released = plant.evaporator.isReleased();
        boolean byTemperature = traits.group.harvestsByTemperature();
        boolean longest = seconds >= LONGEST_HARVEST_SECONDS;
        boolean over = byTemperature
                ? probes.controlCelsius() >= HARVEST_END_CELSIUS && seconds > SHORTEST_HARVEST_SECONDS
                : seconds >= TIMED_HARVEST_SECONDS;
        boolean probeMisleads =
                ailment.is(FaultKind.EVAPORATOR_SENSOR_LOOSE) || ailment.is(FaultKind.EVAPORATOR_SENSOR_FAILED);
        boolean held = byTemperature && !released && !probeMisleads;
        if (longest || (over && !held)) {
            endHarvest(t, longest || (!byTemperature && !released));
        }
    }

    private void endHarvest(long t, boolean timedOut) {
        told.number(Channel.HARVEST_TIME, t * 1000 + 200, clock.seconds(t));
        if (plant.evaporator.isReleased()) {
            fall();
            failedHarvests = 0;
            told.number(Channel.ICE_MASS, t * 1000 + 300, Math.round(madeKg * 100) / 100.0);
        } else {
            failedHarvests++;
        }
        ailment.cycleEnded(t);
        if (failedHarvests >= 3 && timedOut) {
            failedHarvests = 0;
            plant.evaporator.iceKg *= .2;
            protection.trip(t, 2400);
        } else if (plant.bin.isFull()) {
            clock.enter(Phase.IDLE, t);
        } else if (plant.water.isFilling()) {
            clock.enter(Phase.FILL, t);
        } else {
            freeze(t);
        }
    }

    private void fall() {
        double fallen = plant.evaporator.takeIce();
        plant.bin.kg += fallen;
        madeKg += fallen;
    }

    /** Without its probe the machine goes by the clock. */
    private void reduced(long t) {
        if (clock.reducedHarvestBegins(t)) {
            plant.water.dumpAndFill(t);
            plant.evaporator.holdIce();
        }
        if (!clock.reducedHarvestEnds(t)) {
            return;
        }
        if (plant.evaporator.isReleased()) {
            fall();
        }
        plant.evaporator.takeIce();
        ailment.cycleEnded(t);
        if (plant.bin.isFull()) {
            clock.enter(Phase.IDLE, t);
        } else if (!probes.isEvaporatorKnownBad()) {
            freeze(t);
        }
    }

    private void stopped(long t) {
        if (protection.isOver(t)) {
            start(t);
        }
    }
}
