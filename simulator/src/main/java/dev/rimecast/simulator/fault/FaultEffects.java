package dev.rimecast.simulator.fault;

import dev.rimecast.simulator.physics.Ailment;
import dev.rimecast.simulator.physics.Ailments;
import dev.rimecast.telemetry.finding.Cause;

/**
 * What a fault does to a machine. The measure of a fault:
 *
 * <ul>
 *   <li>a share lost, 0 to 1: airflow, fan, charge, restriction, compressor, circulation, jets, drain, hose, water
 *       supply, contact of a loose probe;
 *   <li>a share of the hot gas for its leak, a multiple less one for scale;
 *   <li>kg/min at the size of a 50 kg machine for leaking and lost water;
 *   <li>K for recirculation, gas that can't condense, a room and a condenser probe;
 *   <li>s for fouled level probes and a longer wait after power-on;
 *   <li>1 for full and −1 for empty at a stuck bin sensor; 1 for all that is or is not.
 * </ul>
 */
public final class FaultEffects {
    private static final double STOPPED_FAN_LEAVES = 0.15;

    private FaultEffects() {}

    static void requireSimulated(Cause cause) {
        if (cause == Cause.CONTROLLER_FAILED) {
            throw new IllegalArgumentException(cause.code() + " is not simulated");
        }
    }

    /**
     * Adds a fault to what a machine suffers from.
     *
     * @param x the fault's measure now, above 0 (below for a bin sensor stuck at empty)
     */
    public static void apply(Cause cause, double x, Ailments to) {
        switch (cause) {
            case AIRFLOW_RESTRICTED, FAN_WEAK -> to.scale(Ailment.CONDENSER_CONDUCTANCE, 1 - x);
            case FAN_FAILED -> to.scale(Ailment.CONDENSER_CONDUCTANCE, STOPPED_FAN_LEAVES);
            case HOT_AIR_RECIRCULATING -> to.add(Ailment.RECIRCULATION_KELVIN, x);
            case WATER_SUPPLY_LOW -> to.scale(Ailment.WATER_SUPPLY, 1 - x);
            case CURTAIN_MISPLACED, SUMP_PLUG_OFF, DUMP_VALVE_LEAKING, WATER_LOSS -> to.add(Ailment.WATER_LOSS, x);
            case SPRAY_UNIT_MISPLACED -> {
                to.scale(Ailment.CIRCULATION, 0.5);
                to.add(Ailment.WATER_LOSS, x);
            }
            case WASTE_HOSE_KINKED, DRAIN_BLOCKED -> to.scale(Ailment.DRAIN_FLOW, 1 - x);
            case LEFT_IN_CLEANING -> to.with(Ailment.IN_CLEANING, 1);
            case START_DELAY_SET -> to.add(Ailment.START_DELAY, x);
            case POWER_OFF -> to.with(Ailment.POWER_OFF, 1);
            case SCALE -> to.scale(Ailment.SCALE, 1 + x);
            case CIRCULATION_PUMP_WEAK, SPRAY_JETS_BLOCKED -> to.scale(Ailment.CIRCULATION, 1 - x);
            case LEVEL_PROBES_FOULED -> to.add(Ailment.LEVEL_PROBE_HOLD, x);
            case INLET_VALVE_LEAKING -> to.add(Ailment.INLET_LEAK, x);
            case HOT_GAS_VALVE_LEAKING -> to.add(Ailment.HOT_GAS_LEAK, x);
            case HOT_GAS_VALVE_NOT_OPENING -> to.with(Ailment.HOT_GAS_OPENING, 0);
            case DRAIN_PUMP_FAILED -> to.with(Ailment.DRAIN_PUMP_RUNS, 0);
            case COMPRESSOR_WEAK -> to.scale(Ailment.COMPRESSOR, 1 - x);
            case COMPRESSOR_NOT_STARTING -> to.with(Ailment.COMPRESSOR_STARTS, 0);
            case EVAPORATOR_SENSOR_FAILED -> to.with(Ailment.EVAPORATOR_PROBE_OPEN, 1);
            case EVAPORATOR_SENSOR_LOOSE -> to.scale(Ailment.EVAPORATOR_CONTACT, 1 - x);
            case CONDENSER_SENSOR_FAILED -> to.add(Ailment.CONDENSER_PROBE_OFFSET, x);
            case BIN_SENSOR_FAILED -> to.with(x > 0 ? Ailment.BIN_STUCK_FULL : Ailment.BIN_STUCK_EMPTY, 1);
            case LOW_CHARGE, REFRIGERANT_RESTRICTION -> to.scale(Ailment.CHARGE, 1 - x);
            case AIR_IN_CIRCUIT_OR_OVERCHARGED -> to.add(Ailment.NON_CONDENSABLE_KELVIN, x);
            // The room's, the gateway's and the wiring's: not the machine's.
            case ROOM_TOO_HOT, ROOM_TOO_COLD, GATEWAY_LINK_DOWN, PROBES_SWAPPED -> {}
            case CONTROLLER_FAILED -> requireSimulated(cause);
        }
    }

    /** K that a fault adds to the room. */
    public static double roomKelvin(Cause cause, double x) {
        return cause == Cause.ROOM_TOO_HOT ? x : cause == Cause.ROOM_TOO_COLD ? -x : 0;
    }
}
