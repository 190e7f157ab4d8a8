package dev.rimecast.analytics.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class CusumTest {
    private static final double K = 0.3175;
    private static final double H = 4.1959;

    /** NIST/SEMATECH e-Handbook, section 6.3.2.3: target 325; upper sums point by point, first signal at sample 14. */
    @Test
    void cusum_nistExample_agreesPointByPoint() {
        double[] data = {
            324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600, 324.625, 325.150,
            328.325, 327.250, 327.825
        };
        double[] upper = {0, 0, 0, 0, .0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.9400, 7.4475};
        Cusum cusum = new Cusum();
        int signal = 0;
        double mostDown = 0;

        for (int i = 0; i < data.length; i++) {
            cusum.add(data[i] - 325, i, K, H);
            assertThat(cusum.up()).as("sample %d", i + 1).isCloseTo(upper[i], within(1e-4));
            mostDown = Math.max(mostDown, cusum.down());
            signal = signal == 0 && cusum.up() > H ? i + 1 : signal;
        }

        assertThat(signal).isEqualTo(14);
        assertThat(mostDown).isCloseTo(0.7150, within(1e-4));
        assertThat(cusum.upSinceMillis()).isEqualTo(12);
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
