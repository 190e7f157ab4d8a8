package dev.rimecast.analytics.drift;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.EwmaDesign;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class EwmaTest {

    /** NIST/SEMATECH e-Handbook, section 6.3.2.4: mean 50, s = 2.0539, λ = 0.3, limits at three deviations; none is out. */
    @Test
    void ewma_nistExample_agreesPointByPoint() {
        double[] data = {
            52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4,
            53.6, 52.1
        };
        double[] average = {
            50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
            49.92, 50.73, 51.23, 51.94, 51.99
        };
        double deviation = 2.0539;
        double limit = 3 * EwmaDesign.sigma(0.3);
        Ewma ewma = new Ewma();

        for (int i = 0; i < data.length; i++) {
            ewma.add((data[i] - 50) / deviation, i, 0.3, limit);
            assertThat(50 + deviation * ewma.level()).as("sample %d", i + 1).isCloseTo(average[i], within(0.0051));
            assertThat(Math.abs(ewma.level())).isLessThan(limit);
        }
        assertThat(50 + deviation * limit).isCloseTo(52.5884, within(1e-4));
        assertThat(50 - deviation * limit).as("the handbook has 47.4115").isCloseTo(47.4116, within(1e-4));
        assertThat(ewma.sinceMillis())
                .as("sample 17 is the last within one deviation, 0.86, of 50")
                .isEqualTo(16);
    }

    /** Run length of the class itself against the integral equation; the mean of 2,000 runs has an error of about 2 %. */
    @ParameterizedTest
    @CsvSource({"0", "0.5", "1", "2"})
    void ewma_monteCarlo_hasTheRunLengthOfItsDesign(double shift) {
        double limit = 2.4 * EwmaDesign.sigma(0.1);
        MonteCarlo runs = MonteCarlo.of(9000, shift, () -> {
            Ewma ewma = new Ewma();
            return x -> {
                ewma.add(x, 0, 0.1, limit);
                return Math.abs(ewma.level()) >= limit;
            };
        });

        assertThat(runs.mean())
                .as("values to the alarm at shift %s, seeds from 9000", shift)
                .isCloseTo(EwmaDesign.averageRunLength(0.1, 2.4, shift), within(3.5 * runs.error()));
    }

    @Test
    void ewma_longAlarm_isHeldAtTwiceItsLimit() {
        Ewma ewma = new Ewma();
        for (int i = 0; i < 1000; i++) {
            ewma.add(-5, i, 0.03, 0.6);
        }

        assertThat(ewma.level()).isCloseTo(-1.2, within(1e-6));
    }

    @Test
    void ewma_saved_takesAsManyBytesAsItSays() {
        Ewma ewma = new Ewma();
        ewma.add(1, 1_760_000_000_000L, 0.03, 0.6);
        StateWriter out = new StateWriter();
        ewma.save(out);
        Ewma restored = Ewma.restore(new StateReader(out.toBytes()));

        assertThat(out.toBytes()).hasSizeLessThanOrEqualTo(12);
        assertThat(restored.level()).isEqualTo(ewma.level());
        assertThat(restored.sinceMillis()).isEqualTo(ewma.sinceMillis());
    }
}
