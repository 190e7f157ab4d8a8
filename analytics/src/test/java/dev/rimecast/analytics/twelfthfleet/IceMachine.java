package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Machine.ProbeAt;
import dev.rimecast.telemetry.machine.Phase;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** One machine with its controller, in steps of 2 s while it works and 10 s while it rests. Time is s since the start. */
final class IceMachine {
    static final double CONDENSING_LIMIT = 65;
    private static final double PULL_DOWN_LIMIT = 900;
    private static final double LONGEST_FREEZE = 3600;
    /** Below this a freeze is ended, °C (common practice). */
    private static final double COLDEST = -30;

    private static final double FILL_RATE = 0.055;
    private static final double FIRST_FILL = 300;

    final Design design;
    final Circuit circuit;
    final Plate plate;
    final List<Told> told = new ArrayList<>();
    final double startDelay;
    private final Waste waste;
    private final Random random;
    private final double flowScatter;
    private final double setScatter;
    private final double meltShare;

    Phase phase = Phase.WAIT;
    /** What is read at the evaporator and used by the controller, °C. */
    double evaporatorProbe;

    double condenserProbe;
    double store;
    double waterTaken;
    double iceMade;
    boolean locked;
    /** First time the controller gave up, NaN for never. */
    double lockedAt = Double.NaN;

    /** When ice last fell, s, put off while none is asked for. */
    double madeAt;

    private double since;
    private double coldSince = Double.NaN;
    private boolean crossed;
    private boolean binFull;
    private double retryAt;
    private int trips;
    private double lastTrip = -1e9;
    private double waterAtStart;
    private double flowNow = 1;
    private double thicknessNow = 1;
    private boolean gasOpens;
    private boolean runs;
    private double filledInHarvest;
    private boolean letGo;
    private double harvestTime;
    private boolean firstFill;

    IceMachine(Design design, Random random, double start) {
        this.design = design;
        this.random = random;
        this.circuit = new Circuit(
                design, Math.exp(0.06 * random.nextGaussian()), Math.exp(0.03 * random.nextGaussian()), start);
        this.plate = new Plate(design, start);
        this.waste = new Waste(random, design.drainLimitSeconds(), design.drain() == DrainKind.PUMP ? 2 : 0);
        this.flowScatter = Math.exp(0.03 * random.nextGaussian());
        this.setScatter = 0.5 * random.nextGaussian();
        this.meltShare = 0.055 * Math.exp(0.1 * random.nextGaussian());
        this.startDelay = 300;
        this.store = 0.6 * design.binKg();
        this.evaporatorProbe = start;
        this.condenserProbe = start;
        this.harvestTime = 300 + 30 * random.nextDouble();
    }

    boolean binFull() {
        return binFull;
    }

    /** One step; powered and demand (kg/s) come from the place. Gives the length of the step, s. */
    double step(
            double t,
            boolean powered,
            double room,
            double outdoor,
            double mains,
            double pressure,
            double asked,
            Ills ills) {
        boolean works = phase == Phase.FREEZE || phase == Phase.HARVEST || phase == Phase.FILL;
        double dt = works ? 2 : 10;
        double sink = switch (design.cooling()) {
            case AIR -> room;
            case REMOTE -> outdoor;
            case WATER -> mains;
        };
        if (!powered || ills.switchedOff) {
            enter(Phase.OFF, t);
        } else if (phase == Phase.OFF) {
            trips = 0;
            locked = false;
            enter(Phase.WAIT, t);
        } else if (ills.cleaning && phase != Phase.CLEAN) {
            enter(Phase.CLEAN, t);
        }
        control(t, dt, sink, room, mains, pressure, ills);
        bin(dt, room, asked, ills);
        if (phase == Phase.OFF || phase == Phase.IDLE && ills.binStuck == 0) {
            madeAt = t;
        }
        if (phase != Phase.OFF && design.drain() == DrainKind.PUMP && waste.step(t, dt, ills, told)) {
            trip(t, 1800);
        }
        probes(room, dt, ills);
        return dt;
    }

    private void control(double t, double dt, double sink, double room, double mains, double pressure, Ills ills) {
        double inflow = FILL_RATE * design.size() * pressure * ills.inflow * dt;
        if (phase != Phase.OFF || ills.inletLeak > 0) {
            runIn(ills.inletLeak / 60 * design.size() * dt, mains);
        }
        switch (phase) {
            case WAIT -> {
                rest(sink, room, dt);
                if (t - since >= startDelay + ills.delay) {
                    startFill(t);
                }
            }
            case FILL -> fill(t, dt, inflow, mains, sink, room, ills);
            case FREEZE -> freeze(t, dt, sink, room, ills);
            case HARVEST -> harvest(t, dt, inflow, mains, sink, room, ills);
            case IDLE -> {
                rest(sink, room, dt);
                if (!binFull && t - since > 240) {
                    startFill(t);
                }
            }
            case CLEAN -> {
                rest(sink, room, dt);
                plate.celsius += (room - 3 - plate.celsius) * Math.min(1, dt / 600);
                plate.ice = Math.max(0, plate.ice - 0.001 * dt);
                if (!ills.cleaning) {
                    plate.lose(plate.water);
                    startFill(t);
                }
            }
            case STOPPED -> {
                rest(sink, room, dt);
                if (!locked && t >= retryAt && circuit.condensing < 48) {
                    startFill(t);
                }
            }
            case OFF, REDUCED -> rest(sink, room, dt);
        }
    }

    private void startFill(double t) {
        firstFill = phase == Phase.WAIT;
        enter(Phase.FILL, t);
    }

    private void runIn(double kilograms, double mains) {
        waterTaken += kilograms;
        waste.take(plate.fill(kilograms, mains));
    }

    private void fill(double t, double dt, double inflow, double mains, double sink, double room, Ills ills) {
        rest(sink, room, dt);
        boolean byLevel = design.fillEnds() == EndsBy.LEVEL;
        runIn(inflow, mains);
        double lasted = t + dt - since;
        boolean full = plate.water >= 0.995 * plate.fullSump();
        if (byLevel ? full && (!firstFill || lasted >= FIRST_FILL) : lasted >= (firstFill ? FIRST_FILL : 90)) {
            told.add(new Told(t + dt, Channel.FILL_TIME, lasted));
            startFreeze(t + dt, ills);
        } else if (byLevel && lasted > 900) {
            trip(t, 1200);
        }
    }

    private void startFreeze(double t, Ills ills) {
        runs = random.nextDouble() >= ills.noStart;
        enter(Phase.FREEZE, t);
        coldSince = Double.NaN;
        crossed = evaporatorProbe <= 0;
        plate.melted = 0;
        waterAtStart = plate.water;
        flowNow = flowScatter * Math.exp(0.02 * random.nextGaussian());
        thicknessNow = Math.exp(0.02 * random.nextGaussian());
    }

    private void freeze(double t, double dt, double sink, double room, Ills ills) {
        if (runs) {
            circuit.freeze(plate.celsius, sink, ills, dt);
        } else {
            circuit.rest(sink, plate.celsius, dt);
        }
        double lost = Math.min(plate.water, ills.waterLoss / 60 * design.size() * dt);
        plate.lose(lost);
        waste.take(lost);
        plate.freeze(circuit.cold, room, ills, flowNow, dt);
        double lasted = t + dt - since;
        if (!crossed && evaporatorProbe <= 0) {
            crossed = true;
            told.add(new Told(t + dt, Channel.PULL_DOWN_TIME, lasted));
        }
        if (circuit.condensing >= CONDENSING_LIMIT) {
            trip(t, 900);
        } else if (!crossed && lasted > PULL_DOWN_LIMIT) {
            trip(t, 1800);
        } else if (lasted > 420 && (frozen(t, lasted, ills) || evaporatorProbe < COLDEST) || lasted >= LONGEST_FREEZE) {
            told.add(new Told(t + dt, Channel.FREEZE_TIME, lasted));
            startHarvest(t + dt, ills);
        }
    }

    private boolean frozen(double t, double lasted, Ills ills) {
        return switch (design.freezeEnds()) {
            case TIME -> lasted >= design.freezeSet();
            case THICKNESS -> plate.thicknessMillimetres(ills.dryShare) >= design.freezeSet() * thicknessNow;
            case LEVEL -> waterAtStart - plate.water >= design.freezeSet() * design.size() * thicknessNow;
            case TEMPERATURE -> {
                if (Double.isNaN(coldSince) && evaporatorProbe <= design.freezeSet() + setScatter) {
                    coldSince = t;
                }
                yield t - coldSince >= design.freezeTimer();
            }
        };
    }

    private void startHarvest(double t, Ills ills) {
        enter(Phase.HARVEST, t);
        double dumped = design.dumped() * plate.water;
        plate.lose(dumped);
        waste.take(dumped);
        gasOpens = random.nextDouble() >= ills.hotGasStuck;
        plate.bond =
                design.size() * 0.95 * meltShare * (1 + 0.22 * ills.scale) * Math.exp(0.05 * random.nextGaussian());
        plate.melted = 0;
        filledInHarvest = 0;
        letGo = false;
    }

    private void harvest(double t, double dt, double inflow, double mains, double sink, double room, Ills ills) {
        double heat = circuit.harvest(plate.celsius, sink, ills, gasOpens, dt);
        double lasted = t + dt - since;
        boolean byLevel = design.fillEnds() == EndsBy.LEVEL;
        boolean filling = byLevel ? plate.water < 0.995 * plate.fullSump() : lasted <= 75;
        if (filling) {
            runIn(inflow, mains);
            filledInHarvest = lasted;
            heat += 30 * design.size() * Math.max(0, mains - Math.max(0, plate.celsius)) * 0.3;
        }
        if (plate.harvest(heat, room, ills, dt) && !letGo && plate.ice > 0) {
            letGo = true;
            store += plate.ice;
            iceMade += plate.ice;
            madeAt = t;
            plate.ice = 0;
        }
        boolean end = design.harvestEnds() == EndsBy.TIME
                ? lasted >= harvestTime && evaporatorProbe >= 4
                : evaporatorProbe >= 9 && lasted > 50;
        if (end || lasted >= 420) {
            if (filledInHarvest > 0) {
                told.add(new Told(t + dt, Channel.FILL_TIME, filledInHarvest));
            }
            told.add(new Told(t + dt, Channel.HARVEST_TIME, lasted));
            trips = t - lastTrip > 6 * 3600 ? 0 : trips;
            if (binFull) {
                enter(Phase.IDLE, t + dt);
            } else if (filling && byLevel) {
                startFill(t + dt);
            } else {
                startFreeze(t + dt, ills);
            }
        }
    }

    private void trip(double t, double retryAfter) {
        trips = t - lastTrip > 6 * 3600 ? 1 : trips + 1;
        lastTrip = t;
        retryAt = t + retryAfter;
        if (trips >= 4) {
            locked = true;
            lockedAt = Double.isNaN(lockedAt) ? t : lockedAt;
        }
        enter(Phase.STOPPED, t);
    }

    /** Somebody switched off and on again, or the fault is mended. */
    void reset(double t) {
        locked = false;
        trips = 0;
        if (phase == Phase.STOPPED) {
            enter(Phase.WAIT, t);
        }
    }

    private void rest(double sink, double room, double dt) {
        circuit.rest(sink, plate.celsius, dt);
        double cool = Math.min(1, store / (0.25 * design.binKg()));
        plate.rest(room - cool * (room - 6) * 0.8, room, dt);
    }

    private void enter(Phase next, double t) {
        if (phase != next) {
            phase = next;
            since = t;
            told.add(new Told(t, Channel.PHASE, next.ordinal()));
        } else if (next == Phase.FREEZE || next == Phase.FILL) {
            since = t;
        }
    }

    private void bin(double dt, double room, double asked, Ills ills) {
        double melts = store * 0.0003 * Math.max(0, room + 3) / 3600 * dt;
        store = Math.max(0, store - melts - asked * dt);
        store = Math.min(store, 1.12 * design.binKg());
        waste.take(melts);
        boolean full = store >= (binFull ? 0.93 : 1) * design.binKg();
        full = ills.binStuck == 0 ? full : ills.binStuck > 0;
        if (full != binFull) {
            binFull = full;
        }
    }

    private void probes(double room, double dt, Ills ills) {
        double true1 = design.probeAt() == ProbeAt.OUTLET && circuit.cold > 0
                ? 0.75 * plate.celsius + 0.25 * circuit.evaporating
                : plate.celsius;
        double seen = ills.contact * true1 + (1 - ills.contact) * (0.6 * room + 0.4 * plate.waterCelsius);
        evaporatorProbe += (seen + ills.evaporatorOffset - evaporatorProbe) * Math.min(1, dt / 20);
        condenserProbe += (circuit.condensing - condenserProbe) * Math.min(1, dt / 15);
    }

    /** Mean amperes at 230 V. */
    double amperes() {
        double size = design.size();
        boolean pump = phase == Phase.FREEZE || phase == Phase.CLEAN;
        double fan = circuit.fanOn && design.cooling() != Cooling.WATER ? 35 * size : 0;
        double watts = (circuit.power + fan + (pump ? 30 * size : 0)) / 0.8;
        return phase == Phase.OFF ? 0 : 0.04 + watts / 230;
    }
}
