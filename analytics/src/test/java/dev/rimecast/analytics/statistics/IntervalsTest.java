package dev.rimecast.analytics.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class IntervalsTest {

    /** SciPy 1.17.1: {@code binomtest(k, n).proportion_ci(0.90, method='wilson')}. */
    @ParameterizedTest
    @CsvSource({
        "0, 10, 0.0, 0.21294197008340698",
        "1, 1, 0.2698659487840541, 1.0",
        "9, 10, 0.6522813326641417, 0.9773650912691327",
        "19, 20, 0.8039927632259836, 0.9887651831491484",
        "33, 45, 0.6139600376202224, 0.8262403768286187",
        "95, 100, 0.9008389147209472, 0.9754526365741958"
    })
    void wilson_atNinetyPercent_isAsTheReferenceSays(int hits, int trials, double low, double high) {
        WilsonInterval interval = WilsonInterval.of(hits, trials, 0.9);

        assertThat(interval.low()).isCloseTo(low, within(1e-9));
        assertThat(interval.high()).isCloseTo(high, within(1e-9));
    }

    /** SciPy 1.17.1: {@code chi2.ppf(0.9, 2 * (k + 1)) / 2}, the bound in its chi-squared form. */
    @ParameterizedTest
    @CsvSource({
        "0, 2.302585092994046",
        "1, 3.889720169867429",
        "2, 5.322320337834211",
        "5, 9.274673893351626",
        "10, 15.406641171976514",
        "58, 69.03300405675232",
        "1000, 1041.7545690776437"
    })
    void poissonBound_atNinetyPercent_isAsTheReferenceSays(int events, double upper) {
        assertThat(PoissonBound.upper(events, 0.9)).isCloseTo(upper, within(1e-9 * upper));
    }

    /** SciPy 1.17.1, the same at 0.975; 3.689 for no event is also in Garwood's table of 1936 (from memory). */
    @ParameterizedTest
    @CsvSource({"0, 3.6888794541139354", "1, 5.571643390938898", "10, 18.39035604201778", "58, 74.97844974469457"})
    void poissonBound_atTwoSidedNinetyFive_isAsTheReferenceSays(int events, double upper) {
        assertThat(PoissonBound.upper(events, 0.975)).isCloseTo(upper, within(1e-9 * upper));
    }

    @Test
    void wilson_withoutTrials_isRefused() {
        assertThatThrownBy(() -> WilsonInterval.of(0, 0, 0.9))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("0 of 0");
    }
}
