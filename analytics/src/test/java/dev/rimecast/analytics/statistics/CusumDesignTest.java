package dev.rimecast.analytics.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CusumDesignTest {

    /**
     * One-sided run lengths at k = 0.5: R package spc 0.6.7, {@code xcusum.arl(0.5, h, mu, sided = "one")}; the same values
     * are in Lucas (1976) and in the NIST/SEMATECH e-Handbook, section 6.3.2.3.
     */
    @ParameterizedTest
    @CsvSource({
        "4, 0, 335.4, 0.05", "4, 0.5, 26.7, 0.05", "4, 1, 8.38, 0.005", "4, 2, 3.34, 0.005",
        "5, 0, 930.9, 0.05", "5, 0.5, 38.0, 0.05", "5, 1, 10.4, 0.05", "5, 2, 4.01, 0.005"
    })
    void averageRunLength_oneSided_agreesWithSpc(double h, double shift, double expected, double tolerance) {
        assertThat(CusumDesign.averageRunLength(0.5, h, shift)).isCloseTo(expected, within(tolerance));
    }

    /**
     * Two-sided run lengths at k = 0.5, same source. The two sides combine as 1/L = 1/L(up) + 1/L(down) (Kemp 1961), exact
     * where both cannot be above zero at an alarm, as here.
     */
    @ParameterizedTest
    @CsvSource({
        "4, 0, 167.7, 0.05", "4, .25, 74.2, 0.05", "4, .5, 26.6, 0.05", "4, .75, 13.3, 0.05", "4, 1, 8.38, 0.005",
        "4, 1.5, 4.75, 0.005", "4, 2, 3.34, 0.005", "4, 2.5, 2.62, 0.005", "4, 3, 2.19, 0.005", "4, 4, 1.71, 0.005",
        "5, 0, 465.4, 0.05", "5, .25, 139.5, 0.05", "5, .5, 38.0, 0.05", "5, .75, 17.0, 0.05", "5, 1, 10.4, 0.05",
        "5, 1.5, 5.75, 0.005", "5, 2, 4.01, 0.005", "5, 2.5, 3.11, 0.005", "5, 3, 2.57, 0.005", "5, 4, 2.01, 0.005",
        "4.77, 0, 368.6, 0.6", "4.77, .25, 121.3, 0.2", "4.77, .5, 35.2, 0.05", "4.77, 1, 9.92, 0.005"
    })
    void averageRunLength_twoSided_agreesWithSpc(double h, double shift, double expected, double tolerance) {
        double up = CusumDesign.averageRunLength(0.5, h, shift);
        double down = CusumDesign.averageRunLength(0.5, h, -shift);

        assertThat(1 / (1 / up + 1 / down)).isCloseTo(expected, within(tolerance));
    }

    /** Head start S0 = h/2: R package spc 0.6.7, {@code xcusum.arl(0.5, h, mu, hs = h / 2)}. */
    @ParameterizedTest
    @CsvSource({
        "4, 0, 316.4, 0.05", "4, .5, 20.3, 0.05", "4, 1, 5.29, 0.005", "4, 2, 2.01, 0.005",
        "5, 0, 895.8, 0.05", "5, .5, 28.8, 0.05", "5, 1, 6.35, 0.005", "5, 2, 2.36, 0.005"
    })
    void averageRunLength_headStart_agreesWithSpc(double h, double shift, double expected, double tolerance) {
        assertThat(CusumDesign.averageRunLength(0.5, h, shift, h / 2)).isCloseTo(expected, within(tolerance));
    }

    /** Limits for a wanted run length: R package spc 0.6.7, {@code xcusum.crit(k, L0, sided = "one")}. */
    @ParameterizedTest
    @CsvSource({
        ".5, 365, 4.082", ".5, 1825, 5.666", ".5, 3650, 6.356", ".5, 18250, 7.962",
        ".25, 1825, 9.752", ".25, 18250, 14.309", "1, 1825, 2.964", "1, 18250, 4.115"
    })
    void limitFor_wantedRunLength_agreesWithSpc(double k, double runLength, double expected) {
        assertThat(CusumDesign.limitFor(k, runLength)).isCloseTo(expected, within(0.001));
    }
}
