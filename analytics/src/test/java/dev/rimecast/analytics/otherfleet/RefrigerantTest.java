package dev.rimecast.analytics.otherfleet;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Saturation pressures against the ancillary equations of the open CoolProp fluid files, as tabulated for this project. */
class RefrigerantTest {
    private static final double PURE_TOLERANCE = 0.001;
    private static final double BLEND_TOLERANCE = 0.005;

    @ParameterizedTest
    @CsvSource({
        "-40, 111.13, 51.21, 135.29",
        "-20, 244.54, 132.74, 307.10",
        "-10, 345.28, 200.61, 439.12",
        "0, 474.43, 292.81, 610.18",
        "20, 836.37, 571.70, 1097.15",
        "40, 1369.38, 1016.57, 1829.54",
        "60, 2116.98, 1681.82, 2885.00"
    })
    void saturationPressure_atTabulatedTemperatures_isTheTables(
            double celsius, double propaneKpa, double r134aKpa, double r404aKpa) {
        assertThat(Refrigerant.R290.saturationPascal(celsius) / 1000)
                .isCloseTo(propaneKpa, within(PURE_TOLERANCE * propaneKpa));
        assertThat(Refrigerant.R134A.saturationPascal(celsius) / 1000)
                .isCloseTo(r134aKpa, within(PURE_TOLERANCE * r134aKpa));
        assertThat(Refrigerant.R404A.saturationPascal(celsius) / 1000)
                .isCloseTo(r404aKpa, within(BLEND_TOLERANCE * r404aKpa));
    }

    // from memory, ASHRAE Fundamentals chapter 30: latent heat at 0 °C 374.9 (R290) and 198.6 kJ/kg (R134a);
    // specific volume of saturated vapour at -20 °C 0.181 (R290) and 0.1474 m3/kg (R134a)
    @ParameterizedTest
    @CsvSource({"R290, 374.9, 0.181", "R134A, 198.6, 0.1474"})
    void vapour_atHandbookPoints_isWithinTwoPercent(Refrigerant refrigerant, double latentKilojoule, double volume) {
        assertThat(refrigerant.latentJoulePerKg(0) / 1000).isCloseTo(latentKilojoule, within(0.02 * latentKilojoule));
        assertThat(refrigerant.suctionVolume(-20, -20)).isCloseTo(volume, within(0.02 * volume));
    }
}
