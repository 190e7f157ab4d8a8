package dev.rimecast.analytics.twelfthfleet;

import dev.rimecast.telemetry.finding.Cause;

/**
 * One thing that is wrong with a machine, or with all of a site.
 *
 * @param onset s since the start
 * @param growth s until it is fully there, 0 for a step
 * @param severity 0 mild (an engineer would want to know) to 1 severe
 * @param bend exponent of the growth: 1 even, more begins slowly
 * @param variant which of the ways in which it can show, 0 to 1
 * @param lasts s after the onset until somebody ends it without a visit
 */
record Fault(Cause cause, double onset, double growth, double severity, double bend, double variant, double lasts) {
    private static final double DAY = 86_400;

    double fullFraction() {
        return Math.pow(0.8, 1 / bend);
    }

    /** Seconds since the start. */
    double deadline() {
        if (growth > 0) {
            return onset + growth * fullFraction();
        }
        return onset + DAY * (cause == Cause.BIN_SENSOR_FAILED || cause == Cause.START_DELAY_SET ? 3 : 1);
    }

    private double between(double mild, double severe) {
        return mild + (severe - mild) * severity;
    }

    /** Sets what is wrong at that time. */
    void apply(Ills ills, double t) {
        if (t < onset || t > onset + lasts) {
            return;
        }
        double u = growth > 0 ? Math.pow(Math.min(1, (t - onset) / growth), bend) : 1;
        switch (cause) {
            case AIRFLOW_RESTRICTED -> {
                ills.air *= 1 - u * between(0.3, 0.72);
                ills.condenser *= 1 - u * between(0.1, 0.5);
            }
            case FAN_WEAK -> ills.air *= 1 - u * between(0.35, 0.78);
            case FAN_FAILED -> ills.air = 0;
            case HOT_AIR_RECIRCULATING -> ills.recirculated = u * between(0.25, 0.6);
            case AIR_IN_CIRCUIT_OR_OVERCHARGED -> ills.condenser *= 1 - u * between(0.3, 0.62);
            case ROOM_TOO_HOT -> ills.room = between(41, 46);
            case ROOM_TOO_COLD -> ills.room = between(8, 2);
            case WATER_SUPPLY_LOW -> ills.inflow = 1 - u * between(0.6, 1);
            case CURTAIN_MISPLACED -> ills.waterLoss = u * between(0.04, 0.15);
            case SPRAY_UNIT_MISPLACED -> {
                ills.waterLoss = u * between(0.02, 0.1);
                ills.dryShare = u * between(0.06, 0.2);
            }
            case SUMP_PLUG_OFF -> ills.waterLoss = 3;
            case DUMP_VALVE_LEAKING -> ills.waterLoss = u * between(0.04, 0.25);
            case WASTE_HOSE_KINKED -> ills.drain = 1 - u * between(0.5, 0.85);
            case DRAIN_BLOCKED -> ills.drain = 1 - u * between(0.5, 0.9);
            case DRAIN_PUMP_FAILED -> ills.drain = 0;
            case LEVEL_PROBES_FOULED -> ills.falseLevels = u * between(10, 80);
            case LEFT_IN_CLEANING -> ills.cleaning = true;
            case POWER_OFF -> ills.switchedOff = true;
            case START_DELAY_SET -> ills.delay = between(3600, 10_800);
            case SCALE -> ills.scale += u * between(0.9, 3.6);
            case CIRCULATION_PUMP_WEAK -> {
                // hollow and missing pieces, as the trade says against the lumped model
                ills.circulation = 1 - u * between(0.45, 0.85);
                ills.dryShare = u * between(0.08, 0.25);
            }
            case SPRAY_JETS_BLOCKED -> {
                ills.dryShare = u * between(0.12, 0.4);
                ills.circulation = 1 - u * between(0.1, 0.25);
            }
            case INLET_VALVE_LEAKING -> ills.inletLeak = u * between(0.03, 0.25);
            case HOT_GAS_VALVE_LEAKING -> ills.hotGasLeak = u * between(0.06, 0.32);
            case HOT_GAS_VALVE_NOT_OPENING -> ills.hotGasStuck = u * between(0.25, 1);
            case COMPRESSOR_WEAK -> ills.pumping = 1 - u * between(0.14, 0.5);
            case COMPRESSOR_NOT_STARTING -> ills.noStart = u * between(0.25, 1);
            case LOW_CHARGE -> ills.charge = 1 - u * between(0.13, 0.6);
            case REFRIGERANT_RESTRICTION -> ills.restriction = 1 - u * between(0.13, 0.6);
            case EVAPORATOR_SENSOR_LOOSE -> ills.contact = 1 - u * between(0.12, 0.6);
            case EVAPORATOR_SENSOR_FAILED -> {
                if (variant < 0.4) {
                    ills.evaporatorMissing = true;
                } else {
                    ills.evaporatorOffset = (variant < 0.7 ? -1 : 1) * u * between(4, 10);
                }
            }
            case CONDENSER_SENSOR_FAILED -> {
                if (variant < 0.4) {
                    ills.condenserStuck = true;
                } else {
                    ills.condenserOffset = (variant < 0.7 ? -1 : 1) * u * between(6, 16);
                }
            }
            case BIN_SENSOR_FAILED -> ills.binStuck = variant < 0.5 ? 1 : -1;
            case PROBES_SWAPPED -> ills.swapped = true;
            case GATEWAY_LINK_DOWN -> ills.linkDown = true;
            case CONTROLLER_FAILED, WATER_LOSS -> throw new IllegalStateException("not simulated: " + cause);
        }
    }
}
