package dev.rimecast.alerts.silence;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.silence.SilenceHabit.Spell;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SilenceHabitTest {
    private static final ZoneId UTC = ZoneId.of("UTC");

    /** Both changes of the clocks in three zones: a habit is one of local time, whatever UTC says. */
    @ParameterizedTest
    @CsvSource({
        "Europe/Berlin, 2026-03-29",
        "Europe/Berlin, 2026-10-25",
        "America/New_York, 2026-03-08",
        "America/New_York, 2026-11-01",
        "Australia/Lord_Howe, 2026-04-05",
        "Australia/Lord_Howe, 2026-10-04",
    })
    void usual_overAChangeOfTheClocks_followsLocalTime(String zone, LocalDate change) {
        ZoneId place = ZoneId.of(zone);
        // off every night from 23:00 to 06:00 until the change
        List<Spell> nights = nights(place, change.minusDays(8), 8);

        for (int day = 0; day < 3; day++) {
            LocalDate date = change.plusDays(day);
            assertThat(SilenceHabit.usual(place, nights(place, change.minusDays(8), 8 + day), at(place, date, "04:30")))
                    .as("%s at 04:30", date)
                    .isPresent();
            assertThat(SilenceHabit.usual(place, nights(place, change.minusDays(8), 8 + day), at(place, date, "07:30")))
                    .as("%s at 07:30: it should speak again", date)
                    .isEmpty();
        }
        assertThat(SilenceHabit.usual(place, nights, at(place, change, "14:00")))
                .isEmpty();
    }

    @Test
    void usual_oneDayOfTheWeek_needsThreeOfFourWeeks() {
        LocalDate sunday = LocalDate.parse("2026-05-03");
        List<Spell> sundays = new ArrayList<>();
        sundays.add(day(sunday));
        sundays.add(day(sunday.plusWeeks(1)));
        Instant fourth = at(UTC, sunday.plusWeeks(3), "12:00");
        assertThat(SilenceHabit.usual(UTC, sundays, fourth)).isEmpty();

        sundays.add(day(sunday.plusWeeks(2)));
        assertThat(SilenceHabit.usual(UTC, sundays, fourth)).contains("on this day in 3 of the last 4 weeks");
        assertThat(SilenceHabit.usual(UTC, sundays, fourth.plus(Duration.ofDays(1))))
                .isEmpty();
    }

    @Test
    void usual_fourNightsOrNone_isNoHabit() {
        List<Spell> four = nights(UTC, LocalDate.parse("2026-05-01"), 4);

        assertThat(SilenceHabit.usual(UTC, four, at(UTC, LocalDate.parse("2026-05-05"), "03:00")))
                .isEmpty();
        assertThat(SilenceHabit.usual(UTC, List.of(), at(UTC, LocalDate.parse("2026-05-05"), "03:00")))
                .isEmpty();
    }

    /** Common practice: who closes daily opens daily, and who closes on a day of the week opens on the next. */
    @Test
    void usual_oneOutageOfManyDays_isNoHabitOfEach() {
        Spell outage = new Spell(
                at(UTC, LocalDate.parse("2026-05-01"), "10:00"), at(UTC, LocalDate.parse("2026-05-07"), "09:00"));

        assertThat(SilenceHabit.usual(UTC, List.of(outage), at(UTC, LocalDate.parse("2026-05-07"), "14:00")))
                .as("silent again within hours of an outage of six days")
                .isEmpty();
    }

    @Test
    void usual_dayOfTheWeek_isASilenceOfAtMostADayAndAHalf() {
        LocalDate sunday = LocalDate.parse("2026-05-03");
        List<Spell> untilMondayMorning = new ArrayList<>();
        List<Spell> tooLong = new ArrayList<>();
        for (int week = 0; week < 3; week++) {
            Instant evening = at(UTC, sunday.plusWeeks(week).minusDays(1), "20:00");
            untilMondayMorning.add(new Spell(evening, evening.plus(Duration.ofHours(36))));
            tooLong.add(new Spell(evening, evening.plus(Duration.ofHours(37))));
        }
        Instant fourth = at(UTC, sunday.plusWeeks(3), "12:00");

        assertThat(SilenceHabit.usual(UTC, untilMondayMorning, fourth)).isPresent();
        assertThat(SilenceHabit.usual(UTC, tooLong, fourth)).isEmpty();
    }

    @Test
    void kinds_areToldApart() {
        assertThat(Silence.of(false, false, false, 1)).isEqualTo(Silence.MACHINE);
        assertThat(Silence.of(false, false, false, 3)).isEqualTo(Silence.POWER);
        assertThat(Silence.of(true, false, false, 1)).isEqualTo(Silence.GATEWAY);
        assertThat(Silence.of(true, false, true, 1)).isEqualTo(Silence.CLOSING_TIME);
        assertThat(Silence.of(false, true, true, 3)).isEqualTo(Silence.CLOSED);
    }

    private static List<Spell> nights(ZoneId zone, LocalDate first, int count) {
        List<Spell> nights = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            nights.add(new Spell(at(zone, first.plusDays(i), "23:00"), at(zone, first.plusDays(i + 1L), "06:00")));
        }
        return nights;
    }

    private static Spell day(LocalDate date) {
        return new Spell(at(UTC, date, "02:00"), at(UTC, date, "23:00"));
    }

    private static Instant at(ZoneId zone, LocalDate date, String time) {
        return LocalDateTime.of(date, LocalTime.parse(time)).atZone(zone).toInstant();
    }
}
