package dev.rimecast.simulator.physics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class IceBudgetTest {
    @ParameterizedTest
    @CsvSource({
        // Latent heat 333.55 kJ/kg, water 4.186, ice 2.1 kJ/(kg K): ASHRAE Fundamentals (from memory); sums by hand.
        "21.1, 0, 421.9",
        "21.1, -5, 432.4",
        "0, 0, 333.55"
    })
    void heatOfIce_ofWaterFromTheMains_agreesWithTheHandbooksSum(double water, double ice, double kilojoules) {
        assertThat(Substance.heatOfIce(water, ice) / 1000).isCloseTo(kilojoules, within(0.005 * kilojoules));
    }

    @ParameterizedTest
    @CsvSource({
        // Exergy of cooling and freezing, computed apart from this code: 29.09 and 46.1 kJ/kg.
        "21.1, 21.1, 29.09",
        "21.1, 32.2, 46.1"
    })
    void reversibleWork_atTheRatingPoints_agreesWithTheExergySum(double water, double sink, double kilojoules) {
        assertThat(Substance.reversibleWork(water, sink) / 1000).isCloseTo(kilojoules, within(0.005 * kilojoules));
    }

    @ParameterizedTest
    @CsvSource({
        // s = sqrt(2 k dT t / (rho L)), evaluated by hand with k 2.22, rho 917, L 333.55 kJ/kg.
        "10, 86400, 112.0",
        "10, 864000, 354.1",
        "15, 1200, 16.2",
        "15, 1500, 18.1"
    })
    void stefanThickness_ofPlaneIce_agreesWithTheClosedForm(double kelvin, double seconds, double millimetres) {
        assertThat(1000 * IceGrowth.stefanThickness(kelvin, seconds)).isCloseTo(millimetres, within(0.05));
    }

    @Test
    void stefanThickness_inFieldUnits_liesNearTheTextbooksCoefficient() {
        // 3.54 cm per root of degree-days in theory; a US textbook form gives 3.35: within 6 %.
        double centimetres = 100 * IceGrowth.stefanThickness(1, 86_400);
        assertThat(centimetres).isCloseTo(3.54, within(0.01)).isCloseTo(3.35, within(0.06 * 3.35));
    }

    @Test
    void plankSeconds_ofTenMillimetres_agreesWithTheHandSum() {
        // a 10 mm, h 500 W/(m² K), 15 K: 867 s.
        assertThat(IceGrowth.plankSeconds(0.010, 500, 15)).isCloseTo(867, within(1.0));
    }
}
