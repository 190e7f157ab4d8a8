package dev.rimecast.simulator.physics;

import static dev.rimecast.simulator.physics.Substance.FUSION;
import static dev.rimecast.simulator.physics.Substance.ICE_CONDUCTIVITY;
import static dev.rimecast.simulator.physics.Substance.ICE_DENSITY;

/** Growth of plane ice on a cold surface: closed forms that the stepwise model is checked against. */
public final class IceGrowth {
    private IceGrowth() {}

    /**
     * Stefan (1891): thickness of ice under a surface held at a constant temperature, in water at 0 °C, m.
     *
     * @param kelvinBelowZero how far the surface is below 0 °C
     */
    public static double stefanThickness(double kelvinBelowZero, double seconds) {
        return StrictMath.sqrt(2 * ICE_CONDUCTIVITY * kelvinBelowZero * seconds / (ICE_DENSITY * FUSION));
    }

    /**
     * Plank (1913), one side: time to freeze a thickness through a contact resistance, s.
     *
     * @param thickness m
     * @param conductance between coolant and ice, W/(m² K)
     * @param kelvinBelowZero how far the coolant is below 0 °C
     */
    public static double plankSeconds(double thickness, double conductance, double kelvinBelowZero) {
        return ICE_DENSITY
                * FUSION
                / kelvinBelowZero
                * (thickness / conductance + thickness * thickness / (2 * ICE_CONDUCTIVITY));
    }
}
