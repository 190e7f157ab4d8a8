package dev.rimecast.alerts.silence;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.silence.Closure.Made;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Ten cycles on an open day; how much a melting bin is filled up is common practice. */
class ClosureTest {
    private static final Instant CLOSED = Instant.parse("2026-11-01T20:00:00Z");
    private static final ZoneId ZONE = ZoneId.of("Europe/Madrid");
    private static final int OPEN = 280;

    private static Optional<String> over(String detail, Duration after, int dayBefore, int lastDay) {
        return new Closure("hotel", Optional.empty(), CLOSED, detail)
                .over(ZONE, new Made(OPEN, dayBefore, lastDay), CLOSED.plus(after));
    }

    @Test
    void nothingIsMade_itStandsForMonths() {
        assertThat(over("", Duration.ofDays(120), 0, 0)).isEmpty();
    }

    @Test
    void binThatMelts_isNoOpening() {
        assertThat(over("", Duration.ofDays(20), 2, 3)).isEmpty();
    }

    @Test
    void oneFeast_isNoOpening() {
        assertThat(over("", Duration.ofDays(20), 2, 14)).isEmpty();
    }

    @Test
    void twoDaysLikeOpenOnes_areAnOpening_andSaySo() {
        assertThat(over("", Duration.ofDays(20), 5, 9))
                .hasValue("ice is made as on open days: 5 and 9 cycles in two days, 10 a day before it closed");
    }

    @Test
    void whatIsMadeWhileTheBinFillsUp_isNoOpening() {
        assertThat(over("", Duration.ofHours(70), 9, 5)).isEmpty();
        assertThat(over("", Duration.ofHours(72), 9, 5)).isPresent();
    }

    @Test
    void machineOfWhichLittleIsKnown_tellsNothing() {
        Closure closure = new Closure("hotel", Optional.of("ice-1"), CLOSED, "");

        assertThat(closure.over(ZONE, new Made(20, 3, 3), CLOSED.plus(Duration.ofDays(9))))
                .isEmpty();
    }

    @Test
    void dayThatWasTold_endsItAtMidnightOfThePlace() {
        Duration midnight = Duration.between(CLOSED, Instant.parse("2026-12-19T23:00:00Z"));

        assertThat(over("2026-12-20", midnight.minusMillis(1), 0, 0)).isEmpty();
        assertThat(over("2026-12-20", midnight, 0, 0)).hasValue("as was said when it closed");
    }

    /** A slip of the year, or words. */
    @Test
    void dayBeforeItClosed_orWords_endNothing() {
        assertThat(over("2025-12-20", Duration.ofDays(1), 0, 0)).isEmpty();
        assertThat(over("until Christmas", Duration.ofDays(1), 0, 0)).isEmpty();
    }
}
