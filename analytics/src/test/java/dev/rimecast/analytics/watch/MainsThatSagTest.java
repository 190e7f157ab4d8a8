package dev.rimecast.analytics.watch;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;

/**
 * The pressure of the mains sags while everybody draws from it. A fill at three quarters of the pressure takes 1/√0.75, 15 %, longer (the flow through an
 * orifice goes with the root of the pressure: Torricelli); at noon that is nothing wrong, and it is back in the afternoon.
 */
class MainsThatSagTest {
    private static final GroupPolicy POLICY = Policy.standard().forGroup(Optional.empty());
    private static final Conditions PLACE = new Conditions(24, 0.3, "sensor", 15, 0.3, "sensor");
    private static final double USUAL = 70;
    private static final int CYCLES_A_DAY = 50;
    private static final long CYCLE_MILLIS = 86_400_000L / CYCLES_A_DAY;

    private final Random random = new Random(3);
    private final Watched fill = new Watched(Feature.FILL, POLICY);
    private long now = 1_777_800_000_000L;

    /** Returns whether it was an alarm in any cycle. */
    private boolean day(double atNoon, int sagging) {
        boolean isAlarm = false;
        for (int cycle = 0; cycle < CYCLES_A_DAY; cycle++) {
            double longer = cycle < sagging ? atNoon : 1;
            fill.take(USUAL * longer * Math.exp(0.01 * random.nextGaussian()), PLACE, now, false, POLICY);
            now += CYCLE_MILLIS;
            isAlarm |= fill.isAlarm(true, false, POLICY);
        }
        return isAlarm;
    }

    private void sound() {
        for (int day = 0; day < 20; day++) {
            assertThat(day(1, 0)).isFalse();
        }
    }

    @Test
    void noonsOfAMonth_areNoFault() {
        sound();
        for (int day = 0; day < 30; day++) {
            assertThat(day(1 / Math.sqrt(0.75), 6)).as("day %s", day).isFalse();
        }
        assertThat(day(1.4, 6)).as("a worse noon, of three hours").isFalse();
    }

    @Test
    void tapThatIsHalfShut_isSaidAfterThreeFills() {
        sound();
        assertThat(day(2.2, 2)).isFalse();
        assertThat(day(2.2, 3)).isTrue();
    }

    @Test
    void strainerThatClogs_isSaidOnceItLasts() {
        sound();
        boolean first = day(1.3, CYCLES_A_DAY);
        boolean second = day(1.3, CYCLES_A_DAY);
        assertThat(first || second).isTrue();
    }

    @Test
    void aTenthOfEachFill_isNoWorkForAnybody() {
        sound();
        for (int day = 0; day < 10; day++) {
            assertThat(day(1.12, CYCLES_A_DAY)).isFalse();
        }
    }
}
