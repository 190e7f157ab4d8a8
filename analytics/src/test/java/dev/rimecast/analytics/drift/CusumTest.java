package dev.rimecast.analytics.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.statistics.CusumDesign;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CusumTest {
    private static final double K = 0.3175;
    private static final double H = 4.1959;
    /** So far away that the sum is not held, for the points after the signal. */
    private static final double NEVER = 100;

    /**
     * NIST/SEMATECH e-Handbook, section 6.3.2.3: target 325; upper sums point by point, first signal at sample 14, largest lower
     * sum 0.7150. The sums are recomputed from the handbook's data, which are from memory.
     */
    @Test
    void cusum_nistExample_agreesPointByPoint() {
        double[] data = {
            324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600, 324.625, 325.150,
            328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350
        };
        double[] upper = {
            0, 0, 0, 0, .0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.9400, 7.4475, 10.6300, 11.9875, 14.4450, 16.0025, 19.0350
        };
        Cusum cusum = new Cusum();
        int signal = 0;
        double mostDown = 0;

        for (int i = 0; i < data.length; i++) {
            cusum.add(data[i] - 325, i, K, NEVER);
            assertThat(cusum.up()).as("sample %d", i + 1).isCloseTo(upper[i], within(1e-4));
            mostDown = Math.max(mostDown, cusum.down());
            signal = signal == 0 && cusum.up() > H ? i + 1 : signal;
        }

        assertThat(signal).isEqualTo(14);
        assertThat(mostDown).isCloseTo(0.7150, within(1e-4));
        assertThat(cusum.upSinceMillis()).isEqualTo(12);
    }

    /** Two-sided run length of the class itself; the mean of 2,000 runs has an error of about 2 %. */
    @ParameterizedTest
    @CsvSource({"0", "0.5", "1", "2"})
    void cusum_monteCarlo_hasTheRunLengthOfItsDesign(double shift) {
        MonteCarlo runs = MonteCarlo.of(5000, shift, () -> {
            Cusum cusum = new Cusum();
            return x -> {
                cusum.add(x, 0, 0.5, 4);
                return cusum.up() >= 4 || cusum.down() >= 4;
            };
        });
        double rate =
                1 / CusumDesign.averageRunLength(0.5, 4, shift) + 1 / CusumDesign.averageRunLength(0.5, 4, -shift);

        assertThat(runs.mean())
                .as("values to the alarm at shift %s, seeds from 5000", shift)
                .isCloseTo(1 / rate, within(3.5 * runs.error()));
    }

    @Test
    void cusum_longAlarm_isHeldAtTwiceItsLimit() {
        Cusum cusum = new Cusum();
        for (int i = 0; i < 1000; i++) {
            cusum.add(3, i, K, H);
        }

        assertThat(cusum.up()).isCloseTo(2 * H, within(1e-5));
    }
}
