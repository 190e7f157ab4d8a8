package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.Test;

class WarmInletTest {
    private final WarmInlet inlet = new WarmInlet();
    private int hour;

    /** A room that is warmest in the afternoon, between 20 and 28 °C. */
    private static double room(int hour) {
        return 24 + 4 * Math.sin(2 * Math.PI * (hour % 24 - 9) / 24);
    }

    private void pass(int hours, IntToDoubleFunction own, IntToDoubleFunction others) {
        for (int end = hour + hours; hour < end; hour++) {
            inlet.hour(own.applyAsDouble(hour), others.applyAsDouble(hour));
        }
    }

    @Test
    void ownAirComesBack_isWarmWithinHours() {
        pass(240, h -> room(h) + 1.5, WarmInletTest::room);
        assertThat(inlet.isWarm()).isFalse();
        pass(6, h -> room(h) + 8.5, WarmInletTest::room);
        assertThat(inlet.isWarm()).isTrue();
        assertThat(inlet.kelvin()).isBetween(4.0, 7.5);
    }

    @Test
    void itStaysWarm_isNotLearned_andEnds() {
        pass(240, WarmInletTest::room, WarmInletTest::room);
        pass(30 * 24, h -> room(h) + 7, WarmInletTest::room);
        assertThat(inlet.isWarm()).isTrue();
        assertThat(inlet.kelvin()).isBetween(6.5, 7.5);
        pass(24, WarmInletTest::room, WarmInletTest::room);
        assertThat(inlet.isWarm()).isFalse();
    }

    @Test
    void hotDayForAll_isNone() {
        pass(240, h -> room(h) + 1.5, WarmInletTest::room);
        pass(48, h -> room(h) + 11.5, h -> room(h) + 10);
        assertThat(inlet.isWarm()).isFalse();
    }

    @Test
    void neighboursSensorFalls_isNone() {
        pass(240, WarmInletTest::room, WarmInletTest::room);
        pass(24, WarmInletTest::room, h -> room(h) - 15);
        assertThat(inlet.isWarm()).isFalse();
    }

    /** The neighbour's sensor reads its own warm air while it runs, so this machine seems cool beside it; then that one rests. */
    @Test
    void neighbourInItsOwnWarmAirRests_isNone() {
        pass(240, WarmInletTest::room, h -> room(h) + 11);
        pass(48, h -> room(h) + 6, h -> room(h) + 6.5);
        assertThat(inlet.isWarm()).isFalse();
    }

    @Test
    void unknownSoFar_isNotJudged() {
        pass(24, WarmInletTest::room, WarmInletTest::room);
        pass(24, h -> room(h) + 9, WarmInletTest::room);
        assertThat(inlet.isWarm()).isFalse();
    }

    @Test
    void restored_goesOn() {
        pass(240, WarmInletTest::room, WarmInletTest::room);
        StateWriter out = new StateWriter();
        inlet.save(out);
        WarmInlet restored = WarmInlet.restore(new StateReader(out.toBytes()));
        for (int i = 0; i < 6; i++) {
            restored.hour(32, 24);
        }
        assertThat(restored.isWarm()).isTrue();
    }
}
