package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.SprayUnit;
import java.util.Optional;

/** What can go wrong, how far it goes at full size (mild from-to, severe from-to), and how common it is. */
enum FaultKind {
    NONE(Growth.STEP, Size.ONE, 0),
    AIRFLOW_RESTRICTED(Growth.SLOW, new Size(.28, .40, .48, .68), 3),
    FAN_WEAK(Growth.SLOW, new Size(.28, .42, .48, .62), 1),
    SCALE(Growth.SLOW, new Size(.8, 1.2, 1.6, 2.4), 2),
    LOW_CHARGE(Growth.SLOW, new Size(.14, .20, .28, .45), 2),
    COMPRESSOR_WEAK(Growth.SLOW, new Size(.15, .22, .28, .42), 1),
    REFRIGERANT_RESTRICTION(Growth.SLOW, new Size(.16, .22, .28, .45), 1),
    HOT_GAS_VALVE_LEAKING(Growth.SLOW, new Size(.08, .13, .18, .32), 2),
    INLET_VALVE_LEAKING(Growth.SLOW, new Size(.09, .14, .22, .40), 2),
    DUMP_VALVE_LEAKING(Growth.SLOW, new Size(.09, .12, .15, .24), 1),
    CIRCULATION_PUMP_WEAK(Growth.SLOW, new Size(.40, .52, .60, .74), 1),
    SPRAY_JETS_BLOCKED(Growth.SLOW, new Size(.20, .28, .33, .48), 1),
    WATER_SUPPLY_LOW(Growth.SLOW, new Size(.55, .68, .76, .88), 1),
    DRAIN_BLOCKED(Growth.SLOW, new Size(.48, .60, .70, .82), 1),
    LEVEL_PROBES_FOULED(Growth.SLOW, new Size(.45, .6, .8, 1), 1),
    FAN_FAILED(Growth.STEP, Size.ONE, 2),
    HOT_AIR_RECIRCULATING(Growth.STEP, new Size(5, 7, 8, 12), 2),
    ROOM_TOO_HOT(Growth.STEP, new Size(12, 14, 14, 17), 1),
    CURTAIN_MISPLACED(Growth.STEP, new Size(.10, .14, .16, .22), 1),
    SPRAY_UNIT_MISPLACED(Growth.STEP, new Size(.10, .14, .16, .25), 1),
    SUMP_PLUG_OFF(Growth.STEP, new Size(2.2, 3, 3, 4), 1),
    WASTE_HOSE_KINKED(Growth.STEP, new Size(.6, .68, .72, .80), 1),
    LEFT_IN_CLEANING(Growth.STEP, Size.ONE, 1),
    POWER_OFF(Growth.STEP, Size.ONE, 1),
    HOT_GAS_VALVE_NOT_OPENING(Growth.STEP, Size.ONE, 1),
    DRAIN_PUMP_FAILED(Growth.STEP, Size.ONE, 1),
    COMPRESSOR_NOT_STARTING(Growth.STEP, Size.ONE, 1),
    CONTROLLER_FAILED(Growth.STEP, Size.ONE, 1),
    EVAPORATOR_SENSOR_FAILED(Growth.STEP, Size.ONE, 2),
    EVAPORATOR_SENSOR_LOOSE(Growth.STEP, new Size(.22, .30, .32, .42), 2),
    CONDENSER_SENSOR_FAILED(Growth.STEP, Size.ONE, 1),
    BIN_SENSOR_FAILED(Growth.STEP, Size.ONE, 1),
    PROBES_SWAPPED(Growth.STEP, Size.ONE, 1),
    AIR_IN_CIRCUIT_OR_OVERCHARGED(Growth.STEP, new Size(.16, .22, .25, .35), 1);

    /** How it comes. */
    enum Growth {
        SLOW,
        STEP
    }

    /** From-to of the mild and of the severe ones; in the unit of the fault: a share, K, or kg a minute for 50 kg a day. */
    record Size(double mildFrom, double mildTo, double severeFrom, double severeTo) {
        static final Size ONE = new Size(1, 1, 1, 1);
    }

    final Growth growth;
    final Size size;
    final int weight;

    FaultKind(Growth growth, Size size, int weight) {
        this.growth = growth;
        this.size = size;
        this.weight = weight;
    }

    /** The contract's word for it; none for a sound machine. */
    Optional<Cause> cause() {
        return this == NONE ? Optional.empty() : Optional.of(Cause.valueOf(name()));
    }

    boolean isSlow() {
        return growth == Growth.SLOW;
    }

    /** How many of a hundred of a kind that is mostly slow come at once. */
    double stepShare() {
        return switch (this) {
            case DUMP_VALVE_LEAKING -> 0.4;
            case WATER_SUPPLY_LOW -> 0.35;
            case AIRFLOW_RESTRICTED -> 0.12;
            default -> 0;
        };
    }

    boolean followsCleaning() {
        return this == CURTAIN_MISPLACED
                || this == SPRAY_UNIT_MISPLACED
                || this == SUMP_PLUG_OFF
                || this == LEFT_IN_CLEANING;
    }

    boolean followsVisit() {
        return this == EVAPORATOR_SENSOR_LOOSE || this == PROBES_SWAPPED || this == AIR_IN_CIRCUIT_OR_OVERCHARGED;
    }

    boolean beginsInUse() {
        return this == POWER_OFF || this == FAN_FAILED || this == HOT_AIR_RECIRCULATING;
    }

    /** Whether a machine of the group can have it. */
    boolean fits(MachineGroup group, boolean offAtNight) {
        return switch (this) {
            case AIRFLOW_RESTRICTED,
                    FAN_WEAK,
                    FAN_FAILED,
                    HOT_AIR_RECIRCULATING,
                    ROOM_TOO_HOT,
                    AIR_IN_CIRCUIT_OR_OVERCHARGED -> !group.isWaterCooled();
            case SPRAY_JETS_BLOCKED, SPRAY_UNIT_MISPLACED -> group.sprayUnit == SprayUnit.JETS;
            case DRAIN_BLOCKED, LEVEL_PROBES_FOULED, WASTE_HOSE_KINKED, DRAIN_PUMP_FAILED -> group.hasDrainPump;
            case WATER_SUPPLY_LOW -> group.fillsByLevel();
            case POWER_OFF -> !offAtNight;
            default -> true;
        };
    }
}
