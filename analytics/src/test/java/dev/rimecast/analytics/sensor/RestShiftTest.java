package dev.rimecast.analytics.sensor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

/** What is hot cools towards the room as exp(-t/τ) (Newton's law of cooling). */
class RestShiftTest {
    private static final double ROOM = 23;
    private static final long MINUTE = 60_000L;

    private final RestShift shift = new RestShift();
    private long now = 1_777_800_000_000L;

    /** A rest from a temperature on; returns after how many minutes it said something, 0 where it did not. */
    private int rest(double fromCelsius, double tauMinutes, int minutes) {
        shift.condenser(fromCelsius, false, now);
        for (int minute = 1; minute <= minutes; minute++) {
            now += MINUTE;
            shift.ambient(ROOM, now);
            double condenser = ROOM + (fromCelsius - ROOM) * Math.exp(-minute / tauMinutes);
            if (shift.condenser(condenser, true, now)) {
                return minute;
            }
        }
        return 0;
    }

    @Test
    void condenserThatWasBlownCool_saysAfterAnHour() {
        assertThat(rest(38, 12, 180)).isBetween(60, 62);
        assertThat(shift.latestKelvin()).isCloseTo(0, within(0.3));
    }

    /** Its fan stands still, and it has stopped at 63 °C: after an hour it is 5 K above the room and still falls. */
    @Test
    void condenserThatStillCools_isWaitedFor() {
        int minutes = rest(63, 30, 240);

        assertThat(minutes).isBetween(75, 150);
        assertThat(shift.latestKelvin()).isBetween(0.0, 3.0);
    }

    /** One reading in a quarter of an hour can't tell whether it still cools. */
    @Test
    void readEachFourteenMinutes_isHeldAgainstTheReadingBefore() {
        shift.condenser(63, false, now);
        double said = Double.NaN;
        for (int minute = 14; minute <= 240 && Double.isNaN(said); minute += 14) {
            now += 14 * MINUTE;
            shift.ambient(ROOM, now);
            double condenser = ROOM + 40 * Math.exp(-minute / 30.0);
            if (shift.condenser(condenser, true, now)) {
                said = condenser - ROOM;
            }
        }
        assertThat(said).isBetween(0.0, 2.5);
    }

    @Test
    void restThatEndsBeforeItHasSettled_saysNothing() {
        assertThat(rest(63, 30, 62)).isZero();
    }
}
