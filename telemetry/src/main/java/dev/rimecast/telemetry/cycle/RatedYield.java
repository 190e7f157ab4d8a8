package dev.rimecast.telemetry.cycle;

/**
 * What a machine's rating allows in other conditions. Ratings hold at 32.2 °C of air and 21.1 °C of water (AHRI 810, from memory);
 * away from that the yield of a small machine goes by about 0.9 % a kelvin of air and 0.7 % a kelvin of water (by a lumped
 * model that was not validated on a machine; makers' tables for 21.1 and 10 °C give 15 to 25 % more ice, from memory, and this
 * gives 19 %).
 */
public final class RatedYield {
    public static final double AMBIENT_CELSIUS = 32.2;
    public static final double WATER_CELSIUS = 21.1;
    private static final double PER_KELVIN_OF_AIR = 0.009;
    private static final double PER_KELVIN_OF_WATER = 0.007;

    private RatedYield() {}

    /** kg a day of a machine that never rests. */
    public static double kgPerDay(double ratedKgPerDay, double ambientCelsius, double waterCelsius) {
        return ratedKgPerDay
                * StrictMath.exp(-PER_KELVIN_OF_AIR * (ambientCelsius - AMBIENT_CELSIUS)
                        - PER_KELVIN_OF_WATER * (waterCelsius - WATER_CELSIUS));
    }
}
