package dev.rimecast.analytics.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class PoissonBoundTest {

    /** Half of the quantile of chi-square with 2n degrees of freedom at 0.05, as tables of it have it (from memory). */
    @ParameterizedTest
    @CsvSource({"1, 0.1026", "4, 2.733", "10, 10.851"})
    void lower(int events, double quantile) {
        assertThat(PoissonBound.lower(events, 0.95)).isCloseTo(quantile / 2, within(5e-4));
    }

    /** The same with 2n + 2 degrees of freedom at 0.95. */
    @ParameterizedTest
    @CsvSource({"0, 5.991", "4, 18.307", "10, 33.924"})
    void upper(int events, double quantile) {
        assertThat(PoissonBound.upper(events, 0.95)).isCloseTo(quantile / 2, within(5e-4));
    }

    @Test
    void ofNoEvents_theLowerIsZero() {
        assertThat(PoissonBound.lower(0, 0.95)).isZero();
    }

    @Test
    void nonsense_isRefused() {
        assertThatThrownBy(() -> PoissonBound.lower(-1, 0.95)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> PoissonBound.lower(1, 1)).isInstanceOf(IllegalArgumentException.class);
    }
}
