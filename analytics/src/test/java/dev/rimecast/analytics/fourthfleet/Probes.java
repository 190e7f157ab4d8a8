package dev.rimecast.analytics.fourthfleet;

import static dev.rimecast.analytics.fourthfleet.FaultKind.CONDENSER_SENSOR_FAILED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.EVAPORATOR_SENSOR_FAILED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.EVAPORATOR_SENSOR_LOOSE;
import static dev.rimecast.analytics.fourthfleet.FaultKind.PROBES_SWAPPED;

import dev.rimecast.telemetry.machine.Machine.ProbeAt;
import java.util.OptionalDouble;

/** The four temperatures of a machine as its controller and its gateway see them. */
final class Probes {
    private static final int STUCK_MODE = 3;
    private static final double SHORTED_CELSIUS = -50;
    private static final double OPEN_CELSIUS = 150;

    final Probe evaporator;
    final Probe condenser;
    final Probe ambient;
    final Probe water;
    private final Ailment ailment;
    private double stuckEvaporator;
    private double stuckCondenser;

    Probes(Ailment ailment, Probe evaporator, Probe condenser, Probe ambient, Probe water) {
        this.ailment = ailment;
        this.evaporator = evaporator;
        this.condenser = condenser;
        this.ambient = ambient;
        this.water = water;
        stuckEvaporator = evaporator.celsius;
        stuckCondenser = condenser.celsius;
    }

    static Probes draw(Ailment ailment, Chance chance, double roomCelsius, double pipeCelsius) {
        double noiseE = chance.between(.04, .18);
        double noiseC = chance.between(.05, .25);
        return new Probes(
                ailment,
                Probe.draw(chance, .35, .05, .8, noiseE, chance.between(7, 20), roomCelsius),
                Probe.draw(chance, .6, .06, 1.8, noiseC, chance.between(15, 45), roomCelsius),
                Probe.draw(chance, .7, .08, 1.6, .06, 150, roomCelsius),
                Probe.draw(chance, .6, 0, 0, .06, 60, pipeCelsius));
    }

    void second(Plant plant, Surroundings around, double recirculationKelvin) {
        double room = around.roomCelsius;
        double loose = ailment.of(EVAPORATOR_SENSOR_LOOSE);
        double beside = (room + plant.water.sumpCelsius) / 2;
        evaporator.second((1 - loose) * evaporatorSignal(plant) + loose * beside);
        condenser.second(plant.condenser.celsius);
        ambient.second(room + .4 * recirculationKelvin);
        water.second(plant.water.pipeCelsius);
        if (!ailment.is(EVAPORATOR_SENSOR_FAILED)) {
            stuckEvaporator = evaporator.celsius;
        }
        if (!ailment.is(CONDENSER_SENSOR_FAILED)) {
            stuckCondenser = condenser.celsius;
        }
    }

    /** At the outlet a probe follows the refrigerant more than the plate. */
    private static double evaporatorSignal(Plant plant) {
        Evaporator evaporator = plant.evaporator;
        double plate = evaporator.plateCelsius;
        if (plant.traits.group.probeAt == ProbeAt.PLATE) {
            return plate;
        }
        if (plant.isFreezing()) {
            return evaporator.evaporatingCelsius + .72 * (plate - evaporator.evaporatingCelsius);
        }
        return plate + (plant.isShedding() ? 1.5 : 0);
    }

    /** A probe that is open, shorted or gone is noticed; one that is stuck isn't. */
    boolean isEvaporatorKnownBad() {
        return ailment.is(EVAPORATOR_SENSOR_FAILED) && ailment.fault.mode() < STUCK_MODE;
    }

    double controlCelsius() {
        return ailment.is(EVAPORATOR_SENSOR_FAILED) ? stuckEvaporator : evaporator.controlCelsius();
    }

    OptionalDouble readEvaporator(Chance chance) {
        return ailment.is(PROBES_SWAPPED) ? condenserAsWired(chance) : evaporatorAsWired(chance);
    }

    OptionalDouble readCondenser(Chance chance) {
        return ailment.is(PROBES_SWAPPED) ? evaporatorAsWired(chance) : condenserAsWired(chance);
    }

    private OptionalDouble evaporatorAsWired(Chance chance) {
        return ailment.is(EVAPORATOR_SENSOR_FAILED)
                ? failed(evaporator.rounded(stuckEvaporator))
                : OptionalDouble.of(evaporator.read(chance));
    }

    private OptionalDouble condenserAsWired(Chance chance) {
        return ailment.is(CONDENSER_SENSOR_FAILED)
                ? failed(condenser.rounded(stuckCondenser))
                : OptionalDouble.of(condenser.read(chance));
    }

    private OptionalDouble failed(double stuckCelsius) {
        return switch (ailment.fault.mode()) {
            case 0 -> OptionalDouble.empty();
            case 1 -> OptionalDouble.of(SHORTED_CELSIUS);
            case 2 -> OptionalDouble.of(OPEN_CELSIUS);
            default -> OptionalDouble.of(stuckCelsius);
        };
    }
}
