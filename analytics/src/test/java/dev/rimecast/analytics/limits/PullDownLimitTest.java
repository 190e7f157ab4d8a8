package dev.rimecast.analytics.limits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** With a limit of 600 s well within it is 540 s and less. Common practice: an alarm returns by a deadband, not at its limit. */
class PullDownLimitTest {
    private static final double LIMIT_SECONDS = 600;
    private static final long NONE = Long.MIN_VALUE;

    private PullDownLimit limit = new PullDownLimit();

    private void cycles(double... seconds) {
        for (double each : seconds) {
            limit.cycle(OptionalDouble.of(each), LIMIT_SECONDS);
        }
    }

    @Test
    void beyond_threeInARowWellWithin_isOver() {
        cycles(601, 540, 540);
        assertThat(limit.isBeyond()).isTrue();
        assertThat(limit.latestSeconds()).isEqualTo(601);

        cycles(540);
        assertThat(limit.isBeyond()).isFalse();
    }

    @Test
    void beyond_oneBetweenThatIsNotWellWithin_beginsTheRowAnew() {
        cycles(601, 540, 540, 570, 540, 540);
        assertThat(limit.isBeyond()).isTrue();

        cycles(540);
        assertThat(limit.isBeyond()).isFalse();
    }

    @Test
    void notBeyond_notWellWithin_staysSo() {
        cycles(570, 599, 600);

        assertThat(limit.isBeyond()).isFalse();
    }

    @Test
    void cycle_withoutAPullDown_changesNothing() {
        cycles(601, 540, 540);
        limit.cycle(OptionalDouble.empty(), LIMIT_SECONDS);
        cycles(540);

        assertThat(limit.isBeyond()).isFalse();
    }

    @Test
    void passed_whileItGoesOn_isToldOnce_andBreaksTheRow() {
        cycles(601, 540, 540);
        assertThat(limit.passed(0, 600_000, LIMIT_SECONDS)).isFalse();
        assertThat(limit.passed(0, 600_001, LIMIT_SECONDS))
                .as("it is beyond already")
                .isFalse();
        cycles(540);
        assertThat(limit.isBeyond()).isTrue();
        cycles(540, 540);
        assertThat(limit.passed(NONE, 700_000, LIMIT_SECONDS)).isFalse();
        assertThat(limit.passed(0, 700_000, LIMIT_SECONDS)).isTrue();
        assertThat(limit.latestSeconds()).isEqualTo(700);
    }

    @Test
    void restored_goesOnAsIfUninterrupted() {
        cycles(601, 540, 540);
        StateWriter out = new StateWriter();
        limit.save(out);
        limit = PullDownLimit.restore(new StateReader(out.toBytes()));

        assertThat(limit.isBeyond()).isTrue();
        cycles(540);
        assertThat(limit.isBeyond()).isFalse();
    }
}
