package dev.rimecast.analytics.cycle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class MeterTraceTest {
    private static final double PER_CYCLE = 2.5;

    private final MeterTrace trace = new MeterTrace();
    private double total = 100;

    private OptionalDouble cycle(double used, boolean isCounted) {
        total += used;
        trace.read(Math.floor(total));
        return trace.cycleEnded(isCounted);
    }

    @Test
    void stepsOfTheMeter_evenOutOverTheCycles() {
        cycle(PER_CYCLE, false);
        for (int i = 1; i < MeterTrace.CYCLES; i++) {
            assertThat(cycle(PER_CYCLE, true)).isEmpty();
        }
        assertThat(cycle(PER_CYCLE, true).orElseThrow()).isCloseTo(PER_CYCLE, within(1.0 / MeterTrace.CYCLES));
    }

    @Test
    void whatRunsInARest_isOfNoCycle() {
        cycle(PER_CYCLE, false);
        for (int i = 0; i < 3; i++) {
            cycle(2, true);
        }
        cycle(50, false);
        for (int i = 0; i < 2; i++) {
            cycle(2, true);
        }
        assertThat(cycle(2, true)).hasValue(2);
    }

    @Test
    void anotherMeter_beginsAnew() {
        cycle(2, false);
        for (int i = 0; i < MeterTrace.CYCLES - 1; i++) {
            cycle(2, true);
        }
        total = 0;
        assertThat(cycle(2, true)).isEmpty();
        for (int i = 0; i < MeterTrace.CYCLES - 1; i++) {
            assertThat(cycle(2, true)).isEmpty();
        }
        assertThat(cycle(2, true)).hasValue(2);
    }

    @Test
    void noMeter_noAmount() {
        for (int i = 0; i < 2 * MeterTrace.CYCLES; i++) {
            assertThat(trace.cycleEnded(true)).isEmpty();
        }
    }

    @Test
    void restored_goesOnAsIfNeverStopped() {
        cycle(2, false);
        for (int i = 0; i < MeterTrace.CYCLES - 1; i++) {
            cycle(3, true);
        }
        StateWriter out = new StateWriter();
        trace.save(out);
        MeterTrace restored = MeterTrace.restore(new StateReader(out.toBytes()));
        restored.read(total + 3);
        assertThat(restored.cycleEnded(true)).isEqualTo(cycle(3, true)).hasValue(3);
    }
}
