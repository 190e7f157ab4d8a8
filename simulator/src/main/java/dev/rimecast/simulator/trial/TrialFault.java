package dev.rimecast.simulator.trial;

import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.fleet.MachinePlan;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.DrainKind;
import java.util.Collections;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * How a cause comes in a trial.
 *
 * @param course whether it grows, comes at once, or either
 * @param mild where an engineer would still want to know, in the measure of {@code FaultEffects}; the fault-symptom matrix of
 *     the trade says what that moves
 * @param severe where the machine stops or as good as stops
 * @param afterWork whether it mostly comes right after a cleaning or a visit
 */
record TrialFault(Cause cause, Course course, double mild, double severe, boolean afterWork) {

    /** How a fault comes. */
    enum Course {
        GROWS,
        STEP,
        EITHER
    }

    private static final Map<Cause, TrialFault> ALL = all();

    private static Map<Cause, TrialFault> all() {
        Map<Cause, TrialFault> all = new EnumMap<>(Cause.class);
        grows(all, Cause.AIRFLOW_RESTRICTED, 0.25, 0.85);
        step(all, Cause.HOT_AIR_RECIRCULATING, 4, 14, false);
        // The room is this warm or cold, °C: TrialFaults turns it into kelvin.
        step(all, Cause.ROOM_TOO_HOT, 42, 48, false);
        step(all, Cause.ROOM_TOO_COLD, 8, 2, false);
        all.put(Cause.WATER_SUPPLY_LOW, new TrialFault(Cause.WATER_SUPPLY_LOW, Course.EITHER, 0.5, 1, false));
        step(all, Cause.CURTAIN_MISPLACED, 0.08, 0.3, true);
        step(all, Cause.SPRAY_UNIT_MISPLACED, 0.05, 0.2, true);
        step(all, Cause.SUMP_PLUG_OFF, 3, 3, true);
        step(all, Cause.WASTE_HOSE_KINKED, 0.5, 0.85, true);
        step(all, Cause.LEFT_IN_CLEANING, 1, 1, true);
        step(all, Cause.POWER_OFF, 1, 1, false);
        step(all, Cause.START_DELAY_SET, 3300, 3300, true);
        grows(all, Cause.SCALE, 1, 2.5);
        grows(all, Cause.CIRCULATION_PUMP_WEAK, 0.4, 0.85);
        grows(all, Cause.SPRAY_JETS_BLOCKED, 0.4, 0.75);
        grows(all, Cause.FAN_WEAK, 0.25, 0.75);
        grows(all, Cause.DRAIN_BLOCKED, 0.45, 0.8);
        grows(all, Cause.LEVEL_PROBES_FOULED, 2.5, 8);
        step(all, Cause.FAN_FAILED, 1, 1, false);
        grows(all, Cause.INLET_VALVE_LEAKING, 0.1, 0.5);
        grows(all, Cause.HOT_GAS_VALVE_LEAKING, 0.08, 0.3);
        step(all, Cause.HOT_GAS_VALVE_NOT_OPENING, 1, 1, false);
        grows(all, Cause.DUMP_VALVE_LEAKING, 0.1, 0.3);
        step(all, Cause.DRAIN_PUMP_FAILED, 1, 1, false);
        grows(all, Cause.COMPRESSOR_WEAK, 0.2, 0.55);
        step(all, Cause.COMPRESSOR_NOT_STARTING, 1, 1, false);
        step(all, Cause.EVAPORATOR_SENSOR_FAILED, 1, 1, false);
        step(all, Cause.EVAPORATOR_SENSOR_LOOSE, 0.12, 0.5, true);
        step(all, Cause.CONDENSER_SENSOR_FAILED, 8, 25, false);
        step(all, Cause.BIN_SENSOR_FAILED, 1, 1, false);
        step(all, Cause.PROBES_SWAPPED, 1, 1, true);
        grows(all, Cause.LOW_CHARGE, 0.2, 0.65);
        grows(all, Cause.REFRIGERANT_RESTRICTION, 0.2, 0.6);
        grows(all, Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED, 4, 10);
        step(all, Cause.GATEWAY_LINK_DOWN, 1, 1, false);
        return Collections.unmodifiableMap(all);
    }

    private static void grows(Map<Cause, TrialFault> all, Cause cause, double mild, double severe) {
        all.put(cause, new TrialFault(cause, Course.GROWS, mild, severe, false));
    }

    private static void step(Map<Cause, TrialFault> all, Cause cause, double mild, double severe, boolean afterWork) {
        all.put(cause, new TrialFault(cause, Course.STEP, mild, severe, afterWork));
    }

    static Optional<TrialFault> of(Cause cause) {
        return Optional.ofNullable(ALL.get(cause));
    }

    static Set<Cause> causes() {
        return ALL.keySet();
    }

    /** Whether it is a whole site's, not a machine's. */
    boolean isOfSite() {
        return FaultPlan.isOfAPlace(cause);
    }

    /** Whether this machine can have it and its channels can show it. */
    boolean fits(MachinePlan plan) {
        boolean pump = plan.machine().drainKind() == DrainKind.PUMP;
        ChannelSet channels = plan.channels();
        boolean drainSeen = plan.machine().limits().drainLevelSeconds().isPresent()
                && (channels == ChannelSet.FULL || channels == ChannelSet.DURATIONS);
        boolean phaseSeen = channels == ChannelSet.FULL || channels == ChannelSet.TEMPERATURES_AND_PHASE;
        return switch (cause) {
            // The signal never ends, so no length of it is ever sent: only its edge shows.
            case DRAIN_PUMP_FAILED -> pump && channels == ChannelSet.FULL;
            case DRAIN_BLOCKED, WASTE_HOSE_KINKED, LEVEL_PROBES_FOULED -> drainSeen;
            case DUMP_VALVE_LEAKING -> !pump;
            // A longer wait shows only where power comes back every morning.
            case START_DELAY_SET -> plan.night().isPresent() && phaseSeen;
            // A machine that stands still looks like one whose bin is full, unless something says which.
            case POWER_OFF, LEFT_IN_CLEANING, COMPRESSOR_NOT_STARTING -> phaseSeen;
            case BIN_SENSOR_FAILED -> channels == ChannelSet.FULL;
            case CONDENSER_SENSOR_FAILED, ROOM_TOO_HOT, ROOM_TOO_COLD -> channels != ChannelSet.TEMPERATURES;
            default -> true;
        };
    }
}
