package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.Test;

/** A bar that switches off at 23:00 and on at 6:00. */
class SilentHoursTest {
    private static final Instant FIRST = Instant.parse("2026-04-01T00:00:00Z");

    private final SilentHours hours = new SilentHours();

    private static long at(int day, double hour) {
        return FIRST.plus(Duration.ofDays(day))
                .plusMillis((long) (hour * 3_600_000))
                .toEpochMilli();
    }

    private void nights(int from, int to) {
        for (int day = from; day < to; day++) {
            hours.heard(at(day, 23.1), at(day + 1, 6.2));
        }
    }

    @Test
    void fourNights_areNoHabit_fiveAre() {
        nights(0, 4);
        assertThat(hours.isUsual(at(5, 2))).isFalse();
        nights(4, 5);
        assertThat(hours.isUsual(at(6, 2))).isTrue();
    }

    @Test
    void morning_isNotUsual_butForAnHour() {
        nights(0, 14);
        assertThat(hours.isUsual(at(15, 1.1))).isTrue();
        assertThat(hours.isUsual(at(15, 6.9))).isTrue();
        assertThat(hours.isUsual(at(15, 7.1))).isFalse();
        assertThat(hours.isUsual(at(15, 20))).isFalse();
    }

    @Test
    void heardThroughTheNightAgain_theHabitEnds() {
        nights(0, 14);
        assertThat(hours.isUsual(at(17, 3))).isTrue();
        assertThat(hours.isUsual(at(18, 3))).isFalse();
    }

    @Test
    void oneLongSilence_isNoHabit() {
        hours.heard(at(0, 10), at(30, 10));
        assertThat(hours.isUsual(at(30, 14))).isFalse();
        assertThat(hours.isUsual(at(31, 3))).isFalse();
    }

    /** From Friday evening to Monday morning. */
    @Test
    void weekend_isNoHabitOfMondays() {
        hours.heard(at(3, 18), at(6, 6));
        assertThat(hours.isUsual(at(7, 3))).isFalse();
    }

    @Test
    void minutesOfSilence_areNone() {
        for (int day = 0; day < 7; day++) {
            hours.heard(at(day, 2.1), at(day, 2.9));
        }
        assertThat(hours.isUsual(at(7, 2.5))).isFalse();
    }

    @Test
    void restored_isTheSame() {
        nights(0, 9);
        StateWriter out = new StateWriter();
        hours.save(out);
        SilentHours restored = SilentHours.restore(new StateReader(out.toBytes()));
        for (double hour = 0; hour < 48; hour += 0.5) {
            assertThat(restored.isUsual(at(9, hour))).isEqualTo(hours.isUsual(at(9, hour)));
        }
    }
}
