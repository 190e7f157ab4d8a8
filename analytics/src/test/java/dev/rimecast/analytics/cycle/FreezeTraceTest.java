package dev.rimecast.analytics.cycle;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import org.junit.jupiter.api.Test;

/** Which reading of a probe at the inlet is the water that the machine drew. */
class FreezeTraceTest {
    private final WaterTrace between = new WaterTrace();
    private final FreezeTrace trace = new FreezeTrace(between);

    private void water(double room, double... celsius) {
        for (double one : celsius) {
            trace.water(one, room);
        }
    }

    @Test
    void pipeThatWarmsAfterTheFill_theColdestReadingCounts() {
        water(24, 19.5, 11.25, 13, 15.5, 18);
        assertThat(trace.water()).hasValue(11.25);
    }

    @Test
    void waterWarmerThanTheRoom_theWarmestReadingCounts() {
        water(20, 22, 29.5, 27, 24);
        assertThat(trace.water()).hasValue(29.5);
    }

    @Test
    void fillBeforeTheFreeze_theReadingOfTheFillCounts() {
        between.read(9.5, 21);
        water(21, 12, 13, 14);
        assertThat(trace.water()).hasValue(9.5);
    }

    @Test
    void pipeOfAWarmAfternoon_isNoWarmWaterOfAColdNight() {
        between.read(19, 25);
        between.read(23, 25);
        water(21, 24.5, 24, 23.5);
        assertThat(trace.water()).hasValue(19);
    }

    @Test
    void roomUnknown_theColdestReadingCounts() {
        water(Double.NaN, 22, 29.5, 27, 24);
        assertThat(trace.water()).hasValue(22);
    }

    @Test
    void noReading_noWater() {
        assertThat(trace.water()).isEmpty();
    }

    @Test
    void restored_saysTheSame() {
        water(24, 15, 12);
        StateWriter out = new StateWriter();
        trace.save(out);
        FreezeTrace restored = FreezeTrace.restore(new StateReader(out.toBytes()));
        restored.water(13, 24);
        assertThat(restored.water()).hasValue(12);
    }

    /** A plate stays at its ice's 0 °C, or a probe's little less, and gets warm when that has gone: in the last minute [common practice]. */
    @Test
    void harvestThatWasReadLongBeforeItsEnd_saysNothingOfHowWarmItBecame() {
        FreezeTrace trace = new FreezeTrace();
        trace.harvestPlate(-12, 1_000_000);
        trace.harvestPlate(-3.3, 1_120_000);
        assertThat(trace.harvestWarmest(1_180_000)).isEmpty();
        assertThat(trace.harvestWarmest(1_150_000).orElseThrow()).isCloseTo(-3.3, within(1e-6));
        trace.harvestPlate(9.7, 1_240_000);
        assertThat(trace.harvestWarmest(1_240_000).orElseThrow()).isCloseTo(9.7, within(1e-6));
    }
}
