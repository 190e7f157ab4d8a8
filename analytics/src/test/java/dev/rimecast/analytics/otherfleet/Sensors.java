package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.machine.Machine.ProbeAt;
import java.util.SplittableRandom;

/** The probes of one machine, what is wrong with them, and what gateway and controller therefore see. */
final class Sensors {
    /** What a probe shows instead of a temperature. */
    enum Failure {
        NONE,
        OPEN,
        SHORT,
        STUCK
    }

    /** How a machine's probes came out of the box. */
    record Quality(
            double quantum, double evaporatorOffset, double condenserOffset, double ambientOffset, double outlet) {
        static final Quality GOOD = new Quality(0.1, 0, 0, 0, 0);
    }

    private static final double OPEN_CELSIUS = -50;
    private static final double SHORT_CELSIUS = 125;
    private static final double SELF_HEATING_KELVIN = 0.15;

    private final Quality quality;
    private final ProbeAt probeAt;
    private final Probe evaporator;
    private final Probe condenser;
    private final Probe ambient;
    private final Probe water;
    Failure evaporatorFailure = Failure.NONE;
    Failure condenserFailure = Failure.NONE;
    double condenserDrift;
    boolean swapped;
    private double stuckEvaporator;
    private double stuckCondenser;

    Sensors(Quality quality, ProbeAt probeAt, double roomCelsius) {
        this.quality = quality;
        this.probeAt = probeAt;
        evaporator = new Probe(14, quality.evaporatorOffset(), 0.12, quality.quantum(), roomCelsius);
        condenser = new Probe(22, quality.condenserOffset(), 0.15, quality.quantum(), roomCelsius);
        ambient = new Probe(150, quality.ambientOffset() + SELF_HEATING_KELVIN, 0.08, quality.quantum(), roomCelsius);
        water = new Probe(45, 0.3 * quality.evaporatorOffset(), 0.05, 0.1, roomCelsius);
    }

    void step(double seconds, Plant plant, boolean compressor, double roomCelsius) {
        double place = plant.plateCelsius;
        if (probeAt == ProbeAt.OUTLET && compressor) {
            double warmed = 0.35 + 0.5 * (1 - plant.wetted());
            place = plant.evaporatingCelsius + warmed * (plant.plateCelsius - plant.evaporatingCelsius);
        }
        double contact = plant.wear.evaporatorContact;
        evaporator.step(seconds, contact * place + (1 - contact) * plant.compartmentCelsius);
        double intake = roomCelsius + plant.condenser.intakeRise();
        condenser.step(seconds, 0.96 * plant.condenser.condensingCelsius + 0.04 * intake);
        ambient.step(seconds, intake + quality.outlet() * plant.condenser.dischargeRise());
        water.step(seconds, plant.sump.pipeCelsius);
        if (evaporatorFailure != Failure.STUCK) {
            stuckEvaporator = evaporator.shown();
        }
        if (condenserFailure != Failure.STUCK) {
            stuckCondenser = condenser.shown() + condenserDrift;
        }
    }

    double evaporatorShown() {
        return swapped ? condenserItself() : evaporatorItself();
    }

    double condenserShown() {
        return swapped ? evaporatorItself() : condenserItself();
    }

    private double evaporatorItself() {
        return failed(evaporatorFailure, evaporator.shown(), stuckEvaporator);
    }

    private double condenserItself() {
        return failed(condenserFailure, condenser.shown() + condenserDrift, stuckCondenser);
    }

    private static double failed(Failure failure, double good, double stuck) {
        return switch (failure) {
            case NONE -> good;
            case OPEN -> OPEN_CELSIUS;
            case SHORT -> SHORT_CELSIUS;
            case STUCK -> stuck;
        };
    }

    double readEvaporator(SplittableRandom random) {
        return evaporator.read(evaporatorShown(), random);
    }

    double readCondenser(SplittableRandom random) {
        return condenser.read(condenserShown(), random);
    }

    double readAmbient(SplittableRandom random) {
        return ambient.read(ambient.shown(), random);
    }

    double readWater(SplittableRandom random) {
        return water.read(water.shown(), random);
    }
}
