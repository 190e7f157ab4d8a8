package dev.rimecast.analytics.otherfleet;

import dev.rimecast.analytics.otherfleet.Sensors.Failure;
import dev.rimecast.telemetry.finding.Cause;

/** A cause of the contract as a mechanism: what it does to the machine for an amount between mild and severe. */
enum FaultKind {
    AIRFLOW(Cause.AIRFLOW_RESTRICTED, Growth.EITHER, 0.35, 0.68, true, (m, a) -> {
        m.wear.airFlow *= 1 - a;
        m.wear.condenserArea *= 1 - 0.45 * a;
    }),
    LOW_CHARGE(
            Cause.LOW_CHARGE,
            Growth.SLOW,
            0.32,
            0.52,
            false,
            (m, a) -> m.wear.charge *= 1 - a * (m.hasReserve() ? 1.3 : 1)),
    CURTAIN(
            Cause.CURTAIN_MISPLACED,
            Growth.STEP,
            0.07,
            0.2,
            true,
            (m, a) -> m.wear.splashKgPerSecond += a / 60 * m.design.size()),
    SCALE(Cause.SCALE, Growth.SLOW, 0.8, 2.2, false, (m, a) -> m.wear.scale += a),
    DRAIN_BLOCKED(Cause.DRAIN_BLOCKED, Growth.SLOW, 0.45, 0.7, false, (m, a) -> m.wear.drainFlow *= 1 - a),
    HOT_GAS_LEAK(Cause.HOT_GAS_VALVE_LEAKING, Growth.SLOW, 0.035, 0.1, false, (m, a) -> m.wear.hotGasLeak += a),
    EVAPORATOR_LOOSE(
            Cause.EVAPORATOR_SENSOR_LOOSE, Growth.EITHER, 0.14, 0.45, false, (m, a) -> m.wear.evaporatorContact -= a),
    RECIRCULATION(Cause.HOT_AIR_RECIRCULATING, Growth.STEP, 0.32, 0.6, true, (m, a) -> m.wear.recirculation += a),
    INLET_LEAK(
            Cause.INLET_VALVE_LEAKING,
            Growth.EITHER,
            0.08,
            0.35,
            false,
            (m, a) -> m.wear.inletLeakKgPerSecond += a / 60 * m.design.size()),
    FAN_FAILED(Cause.FAN_FAILED, Growth.STEP, 1, 1, false, (m, a) -> m.wear.fanDead = true),
    COMPRESSOR_WEAK(Cause.COMPRESSOR_WEAK, Growth.SLOW, 0.2, 0.42, false, (m, a) -> {
        m.wear.volumetric *= 1 - a;
        m.wear.compressorWork *= 1 + 0.4 * a;
    }),
    FAN_WEAK(Cause.FAN_WEAK, Growth.SLOW, 0.4, 0.7, false, (m, a) -> m.wear.airFlow *= 1 - a),
    SUMP_PLUG(
            Cause.SUMP_PLUG_OFF,
            Growth.STEP,
            3,
            3,
            true,
            (m, a) -> m.wear.dumpLeakKgPerSecond += a / 60 * m.design.size()),
    WATER_LOW(Cause.WATER_SUPPLY_LOW, Growth.EITHER, 0.82, 0.97, true, (m, a) -> m.wear.supplyPressure *= 1 - a),
    CONDENSER_FAILED(
            Cause.CONDENSER_SENSOR_FAILED,
            Growth.STEP,
            0,
            1,
            false,
            (m, a) -> m.sensors.condenserFailure = a < 0.4 ? Failure.STUCK : a < 0.7 ? Failure.OPEN : Failure.SHORT),
    CONDENSER_DRIFTS(Cause.CONDENSER_SENSOR_FAILED, Growth.SLOW, 6, 12, false, (m, a) -> m.sensors.condenserDrift = -a),
    SPRAY_UNIT(Cause.SPRAY_UNIT_MISPLACED, Growth.STEP, 0.06, 0.16, true, (m, a) -> {
        m.wear.splashKgPerSecond += a / 60 * m.design.size();
        m.wear.waterFlow *= 0.82;
        m.wear.coverage *= 0.94;
    }),
    DUMP_LEAK(
            Cause.DUMP_VALVE_LEAKING,
            Growth.SLOW,
            0.05,
            0.2,
            false,
            (m, a) -> m.wear.dumpLeakKgPerSecond += a / 60 * m.design.size()),
    RESTRICTION(
            Cause.REFRIGERANT_RESTRICTION,
            Growth.SLOW,
            0.43,
            0.6,
            false,
            (m, a) -> m.wear.feed *= 1 - a * (m.hasReserve() ? 1.35 : 1)),
    HOSE_KINKED(Cause.WASTE_HOSE_KINKED, Growth.STEP, 0.5, 0.75, true, (m, a) -> m.wear.drainFlow *= 1 - a),
    HOT_GAS_SHUT(Cause.HOT_GAS_VALVE_NOT_OPENING, Growth.STEP, 0.85, 1, false, (m, a) -> m.wear.hotGasOpening *= 1 - a),
    PUMP_WEAK(Cause.CIRCULATION_PUMP_WEAK, Growth.SLOW, 0.5, 0.85, false, (m, a) -> {
        m.wear.waterFlow *= 1 - a;
        m.wear.coverage *= 1 - 0.3 * a;
    }),
    JETS_BLOCKED(Cause.SPRAY_JETS_BLOCKED, Growth.SLOW, 0.4, 0.7, false, (m, a) -> {
        m.wear.coverage *= 1 - 0.7 * a;
        m.wear.waterFlow *= 1 - 0.6 * a;
    }),
    AIR(Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED, Growth.STEP, 0.5, 0.85, true, (m, a) -> {
        m.wear.airKelvin += 5 * a;
        m.wear.condenserArea *= 1 - 0.5 * a;
    }),
    OVERCHARGED(
            Cause.AIR_IN_CIRCUIT_OR_OVERCHARGED,
            Growth.STEP,
            0.5,
            1,
            true,
            (m, a) -> m.wear.charge *= 1 + a * (m.hasReserve() ? 1 : 1.1)),
    LEVEL_PROBES(Cause.LEVEL_PROBES_FOULED, Growth.SLOW, 0.5, 1, false, (m, a) -> m.wear.probesFouled = a),
    DRAIN_PUMP(Cause.DRAIN_PUMP_FAILED, Growth.STEP, 1, 1, false, (m, a) -> m.wear.drainFlow = 0),
    EVAPORATOR_FAILED(
            Cause.EVAPORATOR_SENSOR_FAILED,
            Growth.STEP,
            0,
            1,
            false,
            (m, a) -> m.sensors.evaporatorFailure = a < 0.4 ? Failure.OPEN : a < 0.7 ? Failure.SHORT : Failure.STUCK),
    BIN_FULL(Cause.BIN_SENSOR_FAILED, Growth.STEP, 1, 1, false, (m, a) -> m.wear.binStuckFull = true),
    BIN_EMPTY(Cause.BIN_SENSOR_FAILED, Growth.STEP, 1, 1, false, (m, a) -> m.wear.binStuckEmpty = true),
    SWAPPED(Cause.PROBES_SWAPPED, Growth.STEP, 1, 1, true, (m, a) -> m.sensors.swapped = true),
    CLEANING(Cause.LEFT_IN_CLEANING, Growth.STEP, 1, 1, true, (m, a) -> m.controller.leftInCleaning = true),
    COMPRESSOR_DEAD(Cause.COMPRESSOR_NOT_STARTING, Growth.STEP, 1, 1, false, (m, a) -> m.wear.compressorDead = true),
    CONTROLLER(Cause.CONTROLLER_FAILED, Growth.STEP, 1, 1, false, (m, a) -> m.wear.controllerHangs = true),
    START_DELAY(
            Cause.START_DELAY_SET,
            Growth.STEP,
            1,
            1,
            true,
            (m, a) -> m.controller.settings = m.asCommissioned.withStartDelay(3600)),
    ROOM_HOT(Cause.ROOM_TOO_HOT, Growth.STEP, 21, 25, false, (m, a) -> m.roomKelvin = a),
    ROOM_COLD(Cause.ROOM_TOO_COLD, Growth.STEP, -15, -19, false, (m, a) -> m.roomKelvin = a),
    POWER(Cause.POWER_OFF, Growth.STEP, 1, 1, true, (m, a) -> m.switchedOff = true),
    GATEWAY(Cause.GATEWAY_LINK_DOWN, Growth.STEP, 1, 1, false, (m, a) -> m.gatewayDown = true);

    /** How a fault comes. */
    enum Growth {
        STEP,
        SLOW,
        EITHER
    }

    @FunctionalInterface
    private interface Mechanism {
        void work(Afflicted machine, double amount);
    }

    private final Cause cause;
    private final Growth growth;
    private final double mild;
    private final double severe;
    private final boolean madeOnSite;
    private final Mechanism mechanism;

    FaultKind(Cause cause, Growth growth, double mild, double severe, boolean madeOnSite, Mechanism mechanism) {
        this.cause = cause;
        this.growth = growth;
        this.mild = mild;
        this.severe = severe;
        this.madeOnSite = madeOnSite;
        this.mechanism = mechanism;
    }

    Cause cause() {
        return cause;
    }

    Growth growth() {
        return growth;
    }

    /** Somebody makes it: mostly right after a cleaning or a visit. */
    boolean isMadeBySomebody() {
        return madeOnSite;
    }

    /** It can only be where waste water is pumped. */
    boolean needsDrainPump() {
        return switch (cause) {
            case DRAIN_BLOCKED, WASTE_HOSE_KINKED, LEVEL_PROBES_FOULED, DRAIN_PUMP_FAILED -> true;
            default -> false;
        };
    }

    /** The whole room or site has it, so the machine stands alone. */
    boolean needsOwnSite() {
        return this == ROOM_HOT || this == ROOM_COLD || this == GATEWAY;
    }

    /**
     * Lets it work.
     *
     * @param severity 0 mild to 1 severe, when fully developed
     * @param developed 0 to 1
     */
    void work(Afflicted machine, double severity, double developed) {
        if (developed > 0) {
            mechanism.work(machine, developed * (mild + severity * (severe - mild)));
        }
    }
}
