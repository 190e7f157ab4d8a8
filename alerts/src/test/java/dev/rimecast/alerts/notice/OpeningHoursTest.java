package dev.rimecast.alerts.notice;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Dates of the changes: IANA tz database, as the JDK has it; offsets beside them are written by hand. */
class OpeningHoursTest {

    @Test
    void night_isTheNextMorning_andFridayEveningIsMonday() {
        OpeningHours hours = Books.desk().receiver("desk").orElseThrow().hours().orElseThrow();
        assertThat(hours.nextOpen(Instant.parse("2026-11-25T02:00:00Z"))).isEqualTo("2026-11-25T07:00:00Z");
        assertThat(hours.nextOpen(Instant.parse("2026-11-25T07:00:00Z"))).isEqualTo("2026-11-25T07:00:00Z");
        assertThat(hours.nextOpen(Instant.parse("2026-11-27T18:00:00Z"))).isEqualTo("2026-11-30T07:00:00Z");
    }

    @Test
    void spanOverMidnight_isOpenAfterItOnTheNextDay() {
        ZoneId berlin = ZoneId.of("Europe/Berlin");
        OpeningHours hours = new OpeningHours(
                berlin, Map.of(DayOfWeek.FRIDAY, new OpeningHours.Span(LocalTime.of(22, 0), LocalTime.of(6, 0))));
        assertThat(hours.isOpen(Instant.parse("2026-11-28T04:59:59Z"))).isTrue();
        assertThat(hours.isOpen(Instant.parse("2026-11-28T05:00:00Z"))).isFalse();
        assertThat(hours.nextOpen(Instant.parse("2026-11-28T05:00:00Z"))).isEqualTo("2026-12-04T21:00:00Z");
    }

    /** The same local hour before and after each change, in three zones. */
    @ParameterizedTest
    @CsvSource({
        // London: 2026-03-29 01:00 to 02:00, 2026-10-25 02:00 to 01:00
        "Europe/London, 2026-03-28T20:00:00Z, 2026-03-29T06:00:00Z",
        "Europe/London, 2026-10-24T20:00:00Z, 2026-10-25T07:00:00Z",
        // New York: 2026-03-08 02:00 to 03:00, 2026-11-01 02:00 to 01:00
        "America/New_York, 2026-03-07T23:30:00Z, 2026-03-08T11:00:00Z",
        "America/New_York, 2026-11-01T00:00:00Z, 2026-11-01T12:00:00Z",
        // Sydney: 2026-10-04 02:00 to 03:00, 2026-04-05 03:00 to 02:00
        "Australia/Sydney, 2026-10-03T10:00:00Z, 2026-10-03T20:00:00Z",
        "Australia/Sydney, 2026-04-04T10:00:00Z, 2026-04-04T21:00:00Z",
    })
    void nextOpen_acrossAChange_isSevenByTheLocalClock(String zone, Instant at, Instant opens) {
        OpeningHours hours = OpeningHours.daily(ZoneId.of(zone), LocalTime.of(7, 0), LocalTime.of(18, 0));
        assertThat(hours.nextOpen(at)).isEqualTo(opens);
        assertThat(LocalDateTime.ofInstant(opens, ZoneId.of(zone)).toLocalTime())
                .isEqualTo(LocalTime.of(7, 0));
    }

    /** 02:30 does not exist on that day; 01:30 is there twice on the other. */
    @Test
    void hoursInsideTheChange_openOnceAndAreNeverMissed() {
        ZoneId newYork = ZoneId.of("America/New_York");
        OpeningHours gap = OpeningHours.daily(newYork, LocalTime.of(2, 30), LocalTime.of(2, 45));
        assertThat(gap.nextOpen(Instant.parse("2026-03-08T06:00:00Z")))
                .as("an hour later, as the clock jumps")
                .isEqualTo("2026-03-08T07:30:00Z");
        OpeningHours twice = OpeningHours.daily(newYork, LocalTime.of(1, 30), LocalTime.of(1, 45));
        assertThat(twice.nextOpen(Instant.parse("2026-11-01T05:00:00Z")))
                .as("the first of the two")
                .isEqualTo("2026-11-01T05:30:00Z");
        assertThat(twice.nextOpen(Instant.parse("2026-11-01T06:00:00Z")))
                .as("the second is another day's")
                .isEqualTo("2026-11-02T06:30:00Z");
    }
}
