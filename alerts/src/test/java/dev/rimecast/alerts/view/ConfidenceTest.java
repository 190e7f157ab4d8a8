package dev.rimecast.alerts.view;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The table in the javadoc of {@link Confidence}: the words are our own, from the design page. */
class ConfidenceTest {
    @Test
    void confidence_oneCauseFarAhead_isLikely() {
        assertThat(Confidence.of(causes(0.60, 0.30))).isEqualTo(Confidence.LIKELY);
    }

    @Test
    void confidence_leadBelowSixtyPercent_isPossible() {
        assertThat(Confidence.of(causes(0.59, 0.30))).isEqualTo(Confidence.POSSIBLE);
    }

    @Test
    void confidence_twoCausesTooClose_cannotTell() {
        assertThat(Confidence.of(causes(0.44, 0.41))).isEqualTo(Confidence.CANNOT_TELL);
    }

    @Test
    void confidence_weakCause_cannotTell() {
        assertThat(Confidence.of(causes(0.29, 0.10))).isEqualTo(Confidence.CANNOT_TELL);
    }

    @Test
    void confidence_noCause_cannotTell() {
        assertThat(Confidence.of(List.of())).isEqualTo(Confidence.CANNOT_TELL);
    }

    private static List<ProbableCause> causes(double first, double second) {
        return List.of(
                new ProbableCause(Cause.SCALE, first, List.of(), List.of()),
                new ProbableCause(Cause.FAN_WEAK, second, List.of(), List.of()));
    }
}
