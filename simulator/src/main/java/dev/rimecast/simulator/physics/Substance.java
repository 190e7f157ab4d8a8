package dev.rimecast.simulator.physics;

/**
 * Water and ice near 0 °C. Values as in the ASHRAE Handbook, Fundamentals (from memory; IAPWS gives 333.43 kJ/kg for
 * the latent heat, 0.04 % away).
 */
public final class Substance {
    /** Latent heat of fusion, J/kg. */
    public static final double FUSION = 333_550;
    /** Specific heat of water, J/(kg K). */
    public static final double WATER_HEAT = 4186;
    /** Specific heat of ice, J/(kg K). */
    public static final double ICE_HEAT = 2100;
    /** Thermal conductivity of ice at 0 °C, W/(m K). */
    public static final double ICE_CONDUCTIVITY = 2.22;
    /** Density of ice, kg/m³. */
    public static final double ICE_DENSITY = 917;

    private static final double ICE_POINT_KELVIN = 273.15;

    private Substance() {}

    /** Heat to take from a kilogram of water to make ice, J/kg. */
    public static double heatOfIce(double waterCelsius, double iceCelsius) {
        return WATER_HEAT * waterCelsius + FUSION - ICE_HEAT * iceCelsius;
    }

    /**
     * Least work that makes ice of 0 °C from a kilogram of water with a heat sink at {@code sinkCelsius}, J/kg:
     * exergy of cooling the water plus that of freezing it.
     */
    public static double reversibleWork(double waterCelsius, double sinkCelsius) {
        double sink = sinkCelsius + ICE_POINT_KELVIN;
        double water = waterCelsius + ICE_POINT_KELVIN;
        double cooling = WATER_HEAT * (sink * StrictMath.log(water / ICE_POINT_KELVIN) - (water - ICE_POINT_KELVIN));
        return cooling + FUSION * (sink / ICE_POINT_KELVIN - 1);
    }
}
