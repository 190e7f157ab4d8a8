package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.diagnosis.DrainSignals;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Random;
import java.util.function.DoubleSupplier;
import org.junit.jupiter.api.Test;

class SignalScatterTest {
    private final Random random = new Random(4);
    private SignalScatter scatter = new SignalScatter();

    private double sound() {
        return 2 * Math.exp(0.06 * random.nextGaussian());
    }

    private double exponential(double mean) {
        return -mean * Math.log(1 - random.nextDouble());
    }

    private void pass(int cycles, DoubleSupplier seconds) {
        for (int i = 0; i < cycles; i++) {
            scatter.cycle(seconds.getAsDouble(), false);
        }
    }

    @Test
    void signalsAsTheyWere_areEven() {
        pass(300, this::sound);
        assertThat(scatter.signals()).isEqualTo(DrainSignals.EVEN);
    }

    @Test
    void allLonger_areEven() {
        pass(300, this::sound);
        pass(60, () -> 3 * sound());
        assertThat(scatter.signals()).isEqualTo(DrainSignals.EVEN);
    }

    @Test
    void heldForAsLongAsItHappens_areUneven_alsoAfterARestart() {
        pass(300, this::sound);
        pass(40, () -> sound() + exponential(2));
        StateWriter out = new StateWriter();
        scatter.save(out);
        scatter = SignalScatter.restore(new StateReader(out.toBytes()));
        assertThat(scatter.signals()).isEqualTo(DrainSignals.UNEVEN);
        pass(40, this::sound);
        assertThat(scatter.signals()).isEqualTo(DrainSignals.EVEN);
    }

    /** Dirt that holds a signal for a half longer now and then: others are as short as ever [common practice]. */
    @Test
    void someHalfAsLongAgain_othersAsEver_areUneven() {
        pass(300, this::sound);
        int[] count = {0};
        pass(30, () -> (count[0]++ % 3 == 0 ? 1.5 : 1) * sound());
        assertThat(scatter.signals()).isEqualTo(DrainSignals.UNEVEN);
    }

    @Test
    void growingSlowly_isEven() {
        pass(300, this::sound);
        for (int i = 0; i < 80; i++) {
            double grown = 1 + 0.01 * i;
            pass(1, () -> grown * sound());
            assertThat(scatter.signals()).isEqualTo(DrainSignals.EVEN);
        }
    }

    @Test
    void stepOfThreeTimes_isEvenAtOnce() {
        pass(300, this::sound);
        for (int i = 0; i < 6; i++) {
            pass(1, () -> 3 * sound());
            assertThat(scatter.signals()).isEqualTo(DrainSignals.EVEN);
        }
    }

    @Test
    void fewCycles_cannotBeTold() {
        pass(20, () -> sound() + exponential(2));
        assertThat(scatter.signals()).isEqualTo(DrainSignals.EITHER);
    }
}
