package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Phase;
import java.util.SplittableRandom;

/** The machine's own control: a sequence of phases with what ends each, and protection that stops it. */
final class Controller {
    private static final double PURGE_SECONDS = 40;

    private final Plant plant;
    private final Sensors sensors;
    private final Bin bin;
    private final Model model;
    private final SplittableRandom random;
    private final Happenings told;
    private final Protection protection;
    final Actuators on = new Actuators();
    Settings settings;
    private Phase phase = Phase.OFF;
    private double inPhase;
    private double waitSeconds;
    private boolean firstFill;
    private double filled;
    private double sumpAtFreeze;
    private double timerFrom = -1;
    private double lastShown;
    private boolean crossedZero;
    private double fellFor;
    private double stoppedFor;
    private double cleaningSeconds;
    boolean leftInCleaning;
    int cycles;

    Controller(Plant plant, Sensors sensors, Bin bin, Settings settings, SplittableRandom random, Happenings told) {
        this.plant = plant;
        this.sensors = sensors;
        this.bin = bin;
        this.model = plant.design.model();
        this.settings = settings;
        this.random = random;
        this.told = told;
        this.protection = new Protection(plant, sensors);
    }

    /** As a gateway that reads the controller would say it. */
    Phase phase() {
        boolean cycling = phase == Phase.FREEZE || phase == Phase.HARVEST || phase == Phase.FILL;
        return cycling && isReduced() ? Phase.REDUCED : phase;
    }

    Protection protection() {
        return protection;
    }

    /** Without an evaporator temperature that can be, it goes on by the clock. */
    private boolean isReduced() {
        double shown = sensors.evaporatorShown();
        return shown < -45 || shown > 90;
    }

    void clean(double seconds) {
        if (phase != Phase.OFF) {
            cleaningSeconds = seconds;
            enter(Phase.CLEAN);
        }
    }

    void step(double now, double seconds, Surroundings around) {
        if (!around.power) {
            if (phase != Phase.OFF) {
                enter(Phase.OFF);
                plant.harvestEnds();
            }
            return;
        }
        if (plant.wear.controllerHangs && phase != Phase.OFF) {
            on.allOff();
            return;
        }
        inPhase += seconds;
        switch (phase) {
            case OFF -> {
                protection.reset();
                firstFill = true;
                waitSeconds = settings.startDelaySeconds();
                enter(Phase.WAIT);
            }
            case WAIT -> {
                if (inPhase >= waitSeconds) {
                    enter(Phase.FILL);
                }
            }
            case FILL -> fill(now, seconds);
            case FREEZE, REDUCED -> freeze(now, seconds);
            case HARVEST -> harvest(now, seconds);
            case IDLE -> {
                if (!bin.isFull() && inPhase >= Settings.ANTI_SHORT_CYCLE_SECONDS) {
                    enter(model.fillsInHarvest() ? Phase.FREEZE : Phase.FILL);
                }
            }
            case CLEAN -> {
                if (inPhase >= cleaningSeconds && !leftInCleaning) {
                    firstFill = true;
                    enter(Phase.FILL);
                }
            }
            case STOPPED -> {
                if (inPhase >= stoppedFor) {
                    waitSeconds = Settings.ANTI_SHORT_CYCLE_SECONDS;
                    enter(Phase.WAIT);
                }
            }
        }
    }

    private void enter(Phase next) {
        phase = next;
        inPhase = 0;
        on.allOff();
        switch (next) {
            case FILL -> {
                on.inlet = true;
                filled = 0;
            }
            case FREEZE -> {
                on.compressor = true;
                on.fan = true;
                on.circulation = model.preChillSeconds() == 0;
                sumpAtFreeze = plant.sump.waterKg;
                timerFrom = -1;
                lastShown = sensors.evaporatorShown();
                crossedZero = lastShown <= 0;
                plant.sprayOfCycle = 1 + 0.03 * random.nextGaussian();
                plant.meltShareOfCycle = 0.055 * Math.exp(0.16 * random.nextGaussian());
            }
            case HARVEST -> {
                on.compressor = true;
                on.hotGas = true;
                fellFor = 0;
                filled = 0;
                cycles++;
            }
            case CLEAN -> on.circulation = true;
            case WAIT, IDLE, STOPPED, REDUCED, OFF -> {}
        }
    }

    private void fill(double now, double seconds) {
        filled += seconds;
        double least = firstFill ? Math.max(settings.fillSeconds(), 120) : settings.fillSeconds();
        boolean byLevel = model.fillEndsBy() == EndsBy.LEVEL;
        boolean full = plant.sump.waterKg >= 0.97 * plant.design.sumpKg();
        boolean late = filled >= Settings.FILL_TIMEOUT_SECONDS;
        if (byLevel ? full || late : filled >= least) {
            told.number(Channel.FILL_TIME, now, filled);
            firstFill = false;
            if (late && plant.sump.waterKg < 0.35 * plant.design.sumpKg()) {
                stop(now, 1200);
            } else {
                enter(bin.isFull() ? Phase.IDLE : Phase.FREEZE);
            }
        }
    }

    private void freeze(double now, double seconds) {
        if (!on.circulation && inPhase >= model.preChillSeconds()) {
            on.circulation = true;
        }
        double shown = sensors.evaporatorShown();
        if (!crossedZero && shown <= 0) {
            crossedZero = true;
            double back = seconds * -shown / Math.max(1e-6, lastShown - shown);
            told.number(Channel.PULL_DOWN_TIME, now - back, Math.round(10 * (inPhase - back)) / 10.0);
        }
        lastShown = shown;
        if (timerFrom < 0 && shown <= settings.freezeEndCelsius()) {
            timerFrom = inPhase;
        }
        double stop = protection.inFreeze(now, inPhase, crossedZero || isReduced());
        if (stop > 0) {
            stop(now, stop);
        } else if (freezeEnds()) {
            told.number(Channel.FREEZE_TIME, now, inPhase);
            enter(Phase.HARVEST);
        }
    }

    private boolean freezeEnds() {
        if (inPhase < Settings.SHORTEST_FREEZE_SECONDS) {
            return false;
        }
        if (inPhase >= Settings.LONGEST_FREEZE_SECONDS) {
            return true;
        }
        if (isReduced()) {
            return inPhase >= settings.freezeSeconds();
        }
        return switch (model.freezeEndsBy()) {
            case TEMPERATURE -> timerFrom >= 0 && inPhase >= timerFrom + settings.freezeTimerSeconds();
            case TIME -> inPhase >= settings.freezeSeconds();
            case LEVEL -> sumpAtFreeze - plant.sump.waterKg >= plant.design.batchKg();
            case THICKNESS -> plant.iceThickness() >= nominalThickness() * (0.7 + 0.3 * plant.sprayOfCycle);
        };
    }

    private double nominalThickness() {
        double flat = plant.design.batchKg() / (Plant.ICE_KG_PER_CUBIC_METRE * plant.design.iceAreaSquareMetre());
        return flat / Math.max(0.3, 1 + model.iceAreaGrowth() * flat / 0.02);
    }

    private void harvest(double now, double seconds) {
        boolean purge = cycles % model.purgeEveryCycles() == 0;
        on.dump = purge && inPhase <= PURGE_SECONDS;
        if (model.fillsInHarvest()) {
            on.inlet = inPhase > PURGE_SECONDS && filled < settings.fillSeconds();
            filled += on.inlet ? seconds : 0;
        }
        if (plant.iceKg <= 0) {
            fellFor += seconds;
        }
        double stop = protection.inHarvest(now);
        if (stop > 0) {
            stop(now, stop);
        } else if (harvestEnds()) {
            told.number(Channel.HARVEST_TIME, now, inPhase);
            if (model.fillsInHarvest()) {
                told.number(Channel.FILL_TIME, now, filled);
            }
            plant.harvestEnds();
            enter(bin.isFull() ? Phase.IDLE : model.fillsInHarvest() ? Phase.FREEZE : Phase.FILL);
        }
    }

    private boolean harvestEnds() {
        double least = model.fillsInHarvest() ? PURGE_SECONDS + settings.fillSeconds() + 4 : 40;
        if (inPhase < least) {
            return false;
        }
        if (inPhase >= Settings.LONGEST_HARVEST_SECONDS) {
            return true;
        }
        if (isReduced()) {
            return inPhase >= settings.harvestSeconds();
        }
        return switch (model.harvestEndsBy()) {
            case TEMPERATURE -> sensors.evaporatorShown() >= settings.harvestEndCelsius();
            case TIME -> inPhase >= settings.harvestSeconds();
            case CURTAIN -> fellFor >= 12;
        };
    }

    private void stop(double now, double seconds) {
        stoppedFor = seconds;
        plant.harvestEnds();
        protection.stopped(now);
        enter(Phase.STOPPED);
    }

    /** It waits for somebody to switch it off and on. */
    boolean isLocked() {
        return phase == Phase.STOPPED && stoppedFor >= Protection.UNTIL_RESET;
    }

    /** The drain tank has not emptied twice in a row. */
    void drainOverrun(double now) {
        if (phase != Phase.OFF && phase != Phase.STOPPED) {
            stop(now, Protection.UNTIL_RESET);
        }
    }
}
