package dev.rimecast.analytics.cycle;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import org.junit.jupiter.api.Test;

/** Which reading of a probe at the inlet is the water that the machine drew. */
class FreezeTraceTest {
    private final FreezeTrace trace = new FreezeTrace();

    private void water(double... celsius) {
        for (double one : celsius) {
            trace.water(one);
        }
    }

    @Test
    void pipeThatWarmsAfterTheFill_theColdestReadingCounts() {
        trace.ambient(24);
        water(19.5, 11.25, 13, 15.5, 18);
        assertThat(trace.water()).hasValue(11.25);
    }

    @Test
    void waterWarmerThanTheRoom_theWarmestReadingCounts() {
        trace.ambient(20);
        water(22, 29.5, 27, 24);
        assertThat(trace.water()).hasValue(29.5);
    }

    @Test
    void roomUnknown_theColdestReadingCounts() {
        water(22, 29.5, 27, 24);
        assertThat(trace.water()).hasValue(22);
    }

    @Test
    void noReading_noWater() {
        trace.ambient(20);
        assertThat(trace.water()).isEmpty();
    }

    @Test
    void restored_saysTheSame() {
        trace.ambient(24);
        water(15, 12);
        StateWriter out = new StateWriter();
        trace.save(out);
        FreezeTrace restored = FreezeTrace.restore(new StateReader(out.toBytes()));
        restored.water(13);
        assertThat(restored.water()).hasValue(12);
    }
}
