package dev.rimecast.simulator.physics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The stepwise model against closed forms, for a plate that is held at one temperature. */
class IceMakerTest {
    private static final double AREA = 0.105;

    @ParameterizedTest
    @CsvSource({"10, 1200", "15, 1200", "15, 1500", "20, 2400"})
    void iceGrowth_onAPlateWithoutResistance_followsStefan(double kelvin, double seconds) {
        double millimetres = grow(kelvin, seconds, 1e-6);
        double expected = 1000 * IceGrowth.stefanThickness(kelvin, seconds);
        assertThat(millimetres).isCloseTo(expected, within(0.01 * expected));
    }

    @ParameterizedTest
    @CsvSource({"15, 10, 500", "12, 8, 1700"})
    void iceGrowth_throughAResistance_takesPlanksTime(double kelvin, double millimetres, double conductance) {
        double seconds = IceGrowth.plankSeconds(millimetres / 1000, conductance, kelvin);
        assertThat(grow(kelvin, seconds, 1 / (conductance * AREA))).isCloseTo(millimetres, within(0.01 * millimetres));
    }

    /** Thickness, mm, after a time on a plate of endless heat capacity in water at 0 °C. */
    private static double grow(double kelvin, double seconds, double resistance) {
        Design design = new Design(50, 0, 500, 0.36, 50, 260, resistance, 1e12, AREA, 0, 0, 100, 4, 0.05, 1.9, false);
        Surroundings place = new Surroundings(0, 0);
        IceMaker maker = new IceMaker(design, place);
        maker.begin(-kelvin, 0, 100);
        for (double t = 0; t < seconds; t += 2) {
            maker.step(Math.min(2, seconds - t), Circuit.Mode.OFF, true, 0, place);
        }
        return 1000 * maker.iceKg() / (Substance.ICE_DENSITY * AREA);
    }
}
