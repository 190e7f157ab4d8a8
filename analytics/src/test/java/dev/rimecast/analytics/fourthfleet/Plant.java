package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Phase;

/**
 * Refrigeration and water of one machine, second by second: which of its parts work is the controller's choice. A lumped model
 * from handbook physics and common practice; a different one from both the module {@code simulator} and the second simulator.
 */
final class Plant {
    private static final double VOLTS = 230;
    private static final double MOTOR_POWER_FACTOR = .6;
    private static final double CONTROLLER_VOLT_AMPERE = 4;

    final Traits traits;
    final Ailment ailment;
    final Water water;
    final Evaporator evaporator;
    final Condenser condenser;
    final Bin bin;
    final Soil soil;
    final CycleScatter cycle;
    private final Compressor compressor;
    private final PhaseClock clock;
    private boolean compressing;
    private boolean shedding;

    Plant(Traits traits, Ailment ailment, PhaseClock clock, CycleScatter cycle, Bin bin, Surroundings around) {
        this.traits = traits;
        this.ailment = ailment;
        this.clock = clock;
        this.bin = bin;
        this.cycle = cycle;
        soil = new Soil();
        water = new Water(traits, ailment, cycle, around.mainsCelsius);
        compressor = new Compressor(traits, ailment, cycle);
        condenser = new Condenser(traits, ailment, cycle, soil, around.roomCelsius);
        evaporator = new Evaporator(traits, ailment, cycle, soil, water, around.roomCelsius);
    }

    boolean isCompressing() {
        return compressing;
    }

    boolean isFreezing() {
        return compressing && !shedding;
    }

    boolean isShedding() {
        return compressing && shedding;
    }

    void second(long t, Surroundings around, double recirculationKelvin) {
        boolean dead = ailment.is(FaultKind.COMPRESSOR_NOT_STARTING) || ailment.is(FaultKind.CONTROLLER_FAILED);
        compressing = clock.isRunning() && !dead;
        shedding = clock.isShedding(t);
        double room = around.roomCelsius;
        if (isFreezing()) {
            compressor.freeze(evaporator.evaporatingCelsius, condenser.celsius);
            evaporator.freeze(compressor.coolingWatt, compressor.wettedShare(), room);
        } else if (isShedding()) {
            compressor.hotGas(condenser.celsius, evaporator.plateCelsius);
            evaporator.shed(compressor.hotGasWatt, room, bin.isBackedUp());
        } else {
            compressor.rest();
            evaporator.rest(restingTarget(room), restingSeconds(), room);
        }
        if (traits.group.isWaterCooled()) {
            water.takenKg += condenser.inWater(compressor.rejectedWatt, isFreezing(), around);
        } else {
            condenser.inAir(compressor.rejectedWatt, isFreezing(), room + recirculationKelvin);
        }
    }

    private double restingTarget(double roomCelsius) {
        return switch (clock.phase()) {
            case CLEAN -> water.pipeCelsius + 6;
            case FREEZE -> water.sumpCelsius;
            default -> bin.airCelsius(roomCelsius);
        };
    }

    private double restingSeconds() {
        return switch (clock.phase()) {
            case CLEAN, FREEZE -> 300;
            case IDLE, WAIT, STOPPED -> 2400;
            default -> 3000;
        };
    }

    /** What a clamp on the supply sees, A. */
    double amperes(long t) {
        if (clock.is(Phase.OFF)) {
            return 0;
        }
        double voltAmpere = CONTROLLER_VOLT_AMPERE + compressor.workWatt / traits.powerFactor;
        if (compressor.workWatt > 0 && !clock.is(Phase.HARVEST)) {
            voltAmpere += traits.fanWatt / MOTOR_POWER_FACTOR * condenser.fanPowerShare();
        }
        if (clock.is(Phase.FREEZE) || clock.is(Phase.CLEAN)) {
            double pump = 1 - .25 * ailment.of(FaultKind.CIRCULATION_PUMP_WEAK);
            voltAmpere += traits.pumpWatt / MOTOR_POWER_FACTOR * pump;
        }
        boolean tries = ailment.is(FaultKind.COMPRESSOR_NOT_STARTING) && clock.seconds(t) % 180 < 8;
        if (tries && clock.is(Phase.FREEZE)) {
            voltAmpere += traits.workWatt * 4;
        }
        return voltAmpere / VOLTS;
    }
}
