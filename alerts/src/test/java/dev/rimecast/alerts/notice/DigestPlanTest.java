package dev.rimecast.alerts.notice;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class DigestPlanTest {

    /** A year, looked at every ten minutes: one for each day of the calendar, at any local hour, in three zones. */
    @ParameterizedTest
    @CsvSource({
        "Europe/London, 06:30", "Europe/London, 01:30", "Europe/London, 00:00",
        "America/New_York, 02:30", "America/New_York, 01:30", "America/New_York, 23:50",
        "Australia/Sydney, 02:00", "Australia/Sydney, 02:30", "Australia/Sydney, 03:00",
    })
    void wholeYear_oneForEachDay(String zone, LocalTime at) {
        DigestPlan plan = plan(ZoneId.of(zone), at);
        Optional<LocalDate> last = Optional.of(LocalDate.of(2025, 12, 31));
        List<LocalDate> days = new ArrayList<>();
        Instant end = LocalDate.of(2027, 1, 1).atStartOfDay(ZoneId.of(zone)).toInstant();
        Instant begin = LocalDate.of(2026, 1, 1).atStartOfDay(ZoneId.of(zone)).toInstant();
        for (Instant now = begin; now.isBefore(end); now = now.plus(Duration.ofMinutes(10))) {
            Optional<LocalDate> due = plan.due(now, last);
            if (due.isPresent()) {
                days.add(due.get());
                last = due;
            }
        }
        assertThat(days).hasSize(365).doesNotHaveDuplicates().isSorted();
    }

    @Test
    void beforeTheHour_nothing_andALateStartHasTodayOnly() {
        DigestPlan plan = plan(ZoneId.of("Europe/London"), LocalTime.of(6, 30));
        LocalDate day = LocalDate.of(2026, 11, 25);
        assertThat(plan.due(Instant.parse("2026-11-25T06:29:59Z"), Optional.of(day.minusDays(1))))
                .isEmpty();
        assertThat(plan.due(Instant.parse("2026-11-25T06:30:00Z"), Optional.of(day.minusDays(1))))
                .contains(day);
        assertThat(plan.due(Instant.parse("2026-11-25T09:00:00Z"), Optional.of(day.minusDays(9))))
                .contains(day);
        assertThat(plan.due(Instant.parse("2026-11-25T09:00:00Z"), Optional.of(day)))
                .isEmpty();
    }

    private static DigestPlan plan(ZoneId zone, LocalTime at) {
        return new DigestPlan("morning", List.of("desk"), at, zone, Set.of());
    }
}
