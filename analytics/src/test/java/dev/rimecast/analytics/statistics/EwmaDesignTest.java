package dev.rimecast.analytics.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EwmaDesignTest {

    /**
     * J. M. Lucas and M. S. Saccucci, Exponentially weighted moving average control schemes, Technometrics 32 (1990), table 3:
     * schemes with run length 500 while nothing has changed (number of the table from memory). The values are those of the R
     * package spc 0.6.7, {@code xewma.arl(weight, limit, shift, sided = "two", limits = "fix")}.
     */
    @ParameterizedTest
    @CsvSource({
        ".4, 3.054, 500 224 71.2 28.4 14.3 5.87 3.52 2.54 2.02 1.44",
        ".25, 2.998, 500 170 48.3 20.1 11.1 5.46 3.61 2.74 2.26 1.73",
        ".2, 2.962, 500 150 41.8 18.2 10.5 5.50 3.74 2.88 2.38 1.86",
        ".1, 2.814, 500 106 31.3 15.9 10.3 6.08 4.36 3.44 2.87 2.19",
        ".05, 2.615, 500 84.0 28.8 16.4 11.4 7.11 5.22 4.17 3.50 2.69"
    })
    void averageRunLength_schemesOfLucasAndSaccucci_agree(double weight, double limit, String lengths) {
        double[] shifts = {0, .25, .5, .75, 1, 1.5, 2, 2.5, 3, 4};
        String[] expected = lengths.split(" ");
        for (int i = 0; i < shifts.length; i++) {
            double length = Double.parseDouble(expected[i]);

            // Half a unit of the last of three digits, and a little for limits that the table rounds, too.
            assertThat(EwmaDesign.averageRunLength(weight, limit, shifts[i]))
                    .as("weight %s, shift %s", weight, shifts[i])
                    .isCloseTo(length, within(length < 10 ? 0.0055 : length < 100 ? 0.055 : 0.55));
        }
    }

    /** R package spc 0.6.7, {@code xewma.crit(weight, L0, sided = "two", limits = "fix", r = 200)}. */
    @ParameterizedTest
    @CsvSource({
        ".01, 500, 1.972964",
        ".01, 18250, 3.421318",
        ".02, 18250, 3.599918",
        ".05, 500, 2.615055",
        ".05, 18250, 3.794881",
        ".1, 1825, 3.254652",
        ".2, 18250, 3.985463"
    })
    void limitFor_wantedRunLength_agreesWithSpc(double weight, double runLength, double expected) {
        assertThat(EwmaDesign.limitFor(weight, runLength)).isCloseTo(expected, within(1e-4));
    }

    /** Where every value is its own average, the chart is Shewhart's: 1 in 370.4 beyond three standard deviations. */
    @Test
    void averageRunLength_weightOne_isOneOverTheProbability() {
        assertThat(EwmaDesign.averageRunLength(1, 3, 0)).isCloseTo(1 / (2 * Normal.below(-3)), within(1e-6));
    }

    @ParameterizedTest
    @CsvSource({".005, 5", ".03, 5.3", ".2, 5.5", "1, 6"})
    void averageRunLength_twiceThePoints_isTheSame(double weight, double limit) {
        double reach = limit * EwmaDesign.sigma(weight);
        int points = (int) Math.max(80, Math.ceil(10 * reach / weight));

        assertThat(EwmaDesign.averageRunLength(weight, reach, 0, points))
                .isCloseTo(
                        EwmaDesign.averageRunLength(weight, limit, 0),
                        within(1e-6 * EwmaDesign.averageRunLength(weight, limit, 0)));
    }

    @Test
    void limitFor_impossibleWeight_isRefused() {
        assertThatThrownBy(() -> EwmaDesign.limitFor(0, 500))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("0.0");
    }
}
