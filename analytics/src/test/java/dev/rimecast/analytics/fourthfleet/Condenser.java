package dev.rimecast.analytics.fourthfleet;

import static dev.rimecast.analytics.fourthfleet.FaultKind.AIRFLOW_RESTRICTED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.AIR_IN_CIRCUIT_OR_OVERCHARGED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.FAN_FAILED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.FAN_WEAK;
import static dev.rimecast.analytics.fourthfleet.FaultKind.HOT_AIR_RECIRCULATING;
import static dev.rimecast.analytics.fourthfleet.FaultKind.LOW_CHARGE;
import static dev.rimecast.analytics.fourthfleet.FaultKind.WATER_SUPPLY_LOW;

/** The condensing coil, in air with a fan or in water with a regulating valve of 34 to 43 °C. */
final class Condenser {
    private static final double VALVE_OPENS_CELSIUS = 34;
    private static final double VALVE_RANGE_KELVIN = 9;
    private static final double FAN_ON_CELSIUS = 36;
    private static final double FAN_OFF_CELSIUS = 28;
    private static final double STILL_AIR_SHARE = .14;
    private static final double RESTING_SHARE = .075;

    private final Traits traits;
    private final Ailment ailment;
    private final CycleScatter cycle;
    private final Soil soil;
    private boolean fan = true;
    double celsius;

    Condenser(Traits traits, Ailment ailment, CycleScatter cycle, Soil soil, double roomCelsius) {
        this.traits = traits;
        this.ailment = ailment;
        this.cycle = cycle;
        this.soil = soil;
        celsius = roomCelsius;
    }

    /** One second in air. */
    void inAir(double rejectedWatt, boolean freezing, double inletCelsius) {
        double load = rejectedWatt;
        double conductance = traits.condenserWattPerKelvin * RESTING_SHARE;
        if (freezing) {
            double clear = airConductance();
            conductance = clear * (fanRuns() ? 1 : STILL_AIR_SHARE);
            load += clear * 9 * ailment.of(AIR_IN_CIRCUIT_OR_OVERCHARGED);
        }
        celsius += (load - conductance * (celsius - inletCelsius)) / traits.condenserJoulePerKelvin;
    }

    private boolean fanRuns() {
        if (traits.group.fanCycles()) {
            fan = celsius > FAN_ON_CELSIUS || (fan && celsius >= FAN_OFF_CELSIUS);
        }
        return fan || ailment.is(AIR_IN_CIRCUIT_OR_OVERCHARGED);
    }

    private double airConductance() {
        double clear = traits.condenserWattPerKelvin * (1 - soil.dust);
        return switch (ailment.active()) {
            case AIRFLOW_RESTRICTED -> clear * (1 - ailment.of(AIRFLOW_RESTRICTED));
            case FAN_WEAK -> clear * (1 - Math.min(.9, ailment.of(FAN_WEAK) * cycle.fan));
            case FAN_FAILED -> clear * .13;
            case HOT_AIR_RECIRCULATING -> clear * .85;
            case AIR_IN_CIRCUIT_OR_OVERCHARGED -> clear * (1 - .6 * ailment.of(AIR_IN_CIRCUIT_OR_OVERCHARGED));
            case LOW_CHARGE -> clear * (1 + .25 * ailment.of(LOW_CHARGE));
            default -> clear;
        };
    }

    /** One second in water; gives the cooling water that was taken, kg. */
    double inWater(double rejectedWatt, boolean freezing, Surroundings around) {
        double opened = Math.min(1, Math.max(0, (celsius - VALVE_OPENS_CELSIUS) / VALVE_RANGE_KELVIN));
        double room = around.roomCelsius;
        double sink = freezing ? around.mainsCelsius + 6 : room;
        double conductance = freezing
                ? traits.condenserWattPerKelvin * 2.6 * opened * (1 - .6 * ailment.of(WATER_SUPPLY_LOW))
                : traits.condenserWattPerKelvin * .03;
        double toRoom = traits.condenserWattPerKelvin * .04 * (celsius - room);
        celsius += (rejectedWatt - conductance * (celsius - sink) - toRoom) / traits.condenserJoulePerKelvin;
        return freezing ? opened * .022 * traits.size : 0;
    }

    /** Share of the fan's power that is drawn. */
    double fanPowerShare() {
        if (traits.group.isWaterCooled() || ailment.is(FAN_FAILED)) {
            return 0;
        }
        return 1 - .3 * ailment.of(FAN_WEAK);
    }
}
