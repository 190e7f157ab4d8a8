package dev.rimecast.analytics.replay;

import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.log.SiteRecord;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.TreeMap;

/** The weather of one site as it would have been told: on each day that of the next two weeks. */
final class WeatherDays {
    private static final int DAYS_AHEAD = 14;
    private static final long DAY_MILLIS = 86_400_000;

    private final TreeMap<LocalDate, Double> warmest = new TreeMap<>();
    private long told = Long.MIN_VALUE;

    WeatherDays(Collection<WeatherRow> rows) {
        rows.forEach(row -> warmest.put(row.date(), row.maxCelsius()));
    }

    /** What is told at this time, if it is the first of a new day (UTC). */
    Optional<SiteRecord.WeatherExpected> at(long millis) {
        long today = Math.floorDiv(millis, DAY_MILLIS);
        if (today == told || warmest.isEmpty()) {
            return Optional.empty();
        }
        told = today;
        LocalDate from = LocalDate.ofEpochDay(today);
        List<SiteRecord.WarmestOfDay> days =
                warmest.subMap(from, true, from.plusDays(DAYS_AHEAD), true).entrySet().stream()
                        .map(day -> new SiteRecord.WarmestOfDay(day.getKey(), day.getValue()))
                        .toList();
        return days.isEmpty()
                ? Optional.empty()
                : Optional.of(new SiteRecord.WeatherExpected(Instant.ofEpochMilli(millis), days));
    }
}
