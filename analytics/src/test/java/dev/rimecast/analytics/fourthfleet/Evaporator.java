package dev.rimecast.analytics.fourthfleet;

import static dev.rimecast.analytics.fourthfleet.FaultKind.BIN_SENSOR_FAILED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.CIRCULATION_PUMP_WEAK;
import static dev.rimecast.analytics.fourthfleet.FaultKind.SCALE;
import static dev.rimecast.analytics.fourthfleet.FaultKind.SPRAY_JETS_BLOCKED;
import static dev.rimecast.analytics.fourthfleet.FaultKind.SPRAY_UNIT_MISPLACED;

/**
 * Plate, refrigerant in it, and ice on it. Ice grows by conduction through contact and ice layer against convection from the
 * sump (handbook physics: a slab after Stefan and Plank); it lets go when about a twentieth of it has melted (common practice).
 */
final class Evaporator {
    private static final double FUSION_JOULE_PER_KG = 333_550;
    private static final double ICE_JOULE_PER_KG_KELVIN = 2100;
    private static final double WATER_JOULE_PER_KG_KELVIN = 4187;
    private static final double ICE_KG_PER_CUBIC_METRE = 917;
    private static final double ICE_WATT_PER_METRE_KELVIN = 2.2;
    private static final double SUMP_JOULE_PER_KELVIN = 400;
    private static final double LOWEST_CELSIUS = -46;

    private final Traits traits;
    private final Ailment ailment;
    private final CycleScatter cycle;
    private final Soil soil;
    private final Water water;
    double plateCelsius;
    double evaporatingCelsius;
    double iceKg;
    private double meltedKg;
    private boolean released;

    Evaporator(Traits traits, Ailment ailment, CycleScatter cycle, Soil soil, Water water, double roomCelsius) {
        this.traits = traits;
        this.ailment = ailment;
        this.cycle = cycle;
        this.soil = soil;
        this.water = water;
        plateCelsius = roomCelsius;
        evaporatingCelsius = roomCelsius;
    }

    boolean isReleased() {
        return released;
    }

    void holdIce() {
        meltedKg = 0;
        released = false;
    }

    /** The ice that has let go falls. */
    double takeIce() {
        double fallen = iceKg;
        iceKg = 0;
        return fallen;
    }

    private double scaled() {
        return soil.scale + ailment.of(SCALE);
    }

    private double contact() {
        return traits.contactKelvinPerWatt * (1 + scaled()) / (1 - .8 * ailment.of(SPRAY_JETS_BLOCKED));
    }

    private double area() {
        double area = traits.iceAreaSquareMetre
                * (1 - .15 * ailment.of(CIRCULATION_PUMP_WEAK))
                * (1 - .8 * ailment.of(SPRAY_JETS_BLOCKED));
        return ailment.is(SPRAY_UNIT_MISPLACED) ? area * .9 : area;
    }

    private double convection() {
        double sprayed = traits.convectionWattPerKelvin
                * cycle.convection
                * (1 - ailment.of(CIRCULATION_PUMP_WEAK))
                * (1 - ailment.of(SPRAY_JETS_BLOCKED));
        double placed = ailment.is(SPRAY_UNIT_MISPLACED) ? sprayed * .85 : sprayed;
        return placed * Math.min(1, water.sumpKg / (.35 * traits.size));
    }

    void freeze(double coolingWatt, double wettedShare, double roomCelsius) {
        double drawn = traits.evaporatorWattPerKelvin * wettedShare * (plateCelsius - evaporatingCelsius);
        evaporatingCelsius =
                Math.max(LOWEST_CELSIUS, evaporatingCelsius + (drawn - coolingWatt) / (1700 * traits.size));
        boolean ice = iceKg > 1e-4 || plateCelsius < -.3;
        double fromWater = ice ? growIce(roomCelsius) : coolWater(roomCelsius);
        double heat = traits.plateJoulePerKelvin + (ice ? .5 * iceKg * ICE_JOULE_PER_KG_KELVIN : 0);
        plateCelsius += (fromWater + roomHeat(roomCelsius) - drawn) / heat;
    }

    private double roomHeat(double roomCelsius) {
        return 1.4 * traits.size * (roomCelsius - plateCelsius);
    }

    private double growIce(double roomCelsius) {
        double area = area();
        double layer = iceKg / (ICE_KG_PER_CUBIC_METRE * area);
        double conducted = -plateCelsius / (contact() + layer / (ICE_WATT_PER_METRE_KELVIN * area));
        double convected = water.sumpKg < .02 * traits.size ? 0 : convection() * Math.max(0, water.sumpCelsius);
        double grown = (conducted - convected) / FUSION_JOULE_PER_KG;
        if (water.sumpKg < .03 * traits.size && grown > 0) {
            grown = 0;
            conducted = Math.min(conducted, .12 * conducted);
        }
        grown = Math.min(Math.max(grown, -iceKg), Math.max(0, water.sumpKg));
        iceKg += grown;
        water.sumpKg -= grown;
        warmSump(-convected, roomCelsius);
        return conducted;
    }

    private double coolWater(double roomCelsius) {
        double drawn = (water.sumpCelsius - plateCelsius) / (contact() + 1 / Math.max(convection(), 1));
        return warmSump(-drawn, roomCelsius) ? drawn : 0;
    }

    /** Heat to the sump; nothing where there is no water. */
    private boolean warmSump(double watt, double roomCelsius) {
        boolean wet = water.sumpKg > .01;
        if (wet) {
            double fromRoom = 2.2 * traits.size * (roomCelsius - water.sumpCelsius);
            double heat = water.sumpKg * WATER_JOULE_PER_KG_KELVIN + SUMP_JOULE_PER_KELVIN;
            water.sumpCelsius += (watt + fromRoom) / heat;
        }
        water.sumpCelsius = Math.max(0, water.sumpCelsius);
        return wet;
    }

    void shed(double hotGasWatt, double roomCelsius, boolean iceBacksUp) {
        double heat = traits.plateJoulePerKelvin;
        double toIce = 0;
        if (iceKg > 0 && !released) {
            if (plateCelsius < 0) {
                heat += iceKg * ICE_JOULE_PER_KG_KELVIN;
            } else {
                toIce = plateCelsius / contact();
                melt(toIce / FUSION_JOULE_PER_KG, iceBacksUp && ailment.is(BIN_SENSOR_FAILED));
            }
        }
        released |= iceKg <= .02 * traits.size;
        double fill = water.isFilling() ? 5.4 * traits.size * (water.sumpCelsius - plateCelsius) : 0;
        plateCelsius += (hotGasWatt - toIce + roomHeat(roomCelsius) + fill) / heat;
        evaporatingCelsius += (plateCelsius + 3 - evaporatingCelsius) / 20;
    }

    private void melt(double kg, boolean iceBacksUp) {
        meltedKg += kg;
        double share = traits.meltedShare * cycle.mass * cycle.convection * cycle.grip;
        double rough = (1 + .75 * scaled()) * (iceBacksUp ? 1.7 : 1);
        if (meltedKg >= share * rough * iceKg) {
            released = true;
            iceKg = Math.max(0, iceKg - meltedKg);
            water.wasteKg += meltedKg;
        }
    }

    /** At rest the plate drifts to what is around it, over ice or not, or to the water that runs over it. */
    void rest(double targetCelsius, double secondsToFollow, double roomCelsius) {
        double target = targetCelsius;
        if (iceKg > 0) {
            target = Math.min(target, .5);
            double melted = 1.6 * traits.size * roomCelsius / FUSION_JOULE_PER_KG;
            iceKg = Math.max(0, iceKg - melted);
            water.wasteKg += melted;
        }
        plateCelsius += (target - plateCelsius) / secondsToFollow;
        evaporatingCelsius += (plateCelsius - evaporatingCelsius) / 200;
        if (water.sumpKg > 0) {
            water.sumpCelsius += (roomCelsius - 3 - water.sumpCelsius) / 7200;
        }
    }
}
