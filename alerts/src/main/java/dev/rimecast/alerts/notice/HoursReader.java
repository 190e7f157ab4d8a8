package dev.rimecast.alerts.notice;

import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.time.DateTimeException;
import java.time.DayOfWeek;
import java.time.LocalTime;
import java.time.ZoneId;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Reads hours and time zones of {@code notices.yaml}. */
final class HoursReader {
    private static final YamlType<String> TEXT = YamlType.text();

    private HoursReader() {}

    static Optional<OpeningHours> hours(YamlMap entry) {
        Optional<ZoneId> zone = entry.optionalString("zone").flatMap(name -> zone(entry, name));
        Map<String, String> spans = entry.values("hours", TEXT);
        if (spans.isEmpty()) {
            if (entry.has("zone") && !entry.has("hours")) {
                entry.problem("zone", "says nothing without hours");
            }
            return Optional.empty();
        }
        if (!entry.has("zone")) {
            entry.problem("zone", "is missing: hours are local, so give an IANA zone such as Europe/Berlin");
        }
        Map<DayOfWeek, OpeningHours.Span> days = new EnumMap<>(DayOfWeek.class);
        YamlMap section = entry.map("hours");
        spans.forEach((word, text) -> {
            Optional<OpeningHours.Span> span = span(section, word, text);
            days(section, word)
                    .forEach(day -> span.ifPresent(s -> {
                        if (days.put(day, s) != null) {
                            section.problem(word, "gives " + dayWord(day) + " a second time");
                        }
                    }));
        });
        return zone.isPresent() && !days.isEmpty() ? Optional.of(new OpeningHours(zone.get(), days)) : Optional.empty();
    }

    static Optional<ZoneId> zone(YamlMap entry, String name) {
        try {
            ZoneId zone = ZoneId.of(name);
            if (ZoneId.getAvailableZoneIds().contains(name)) {
                return Optional.of(zone);
            }
        } catch (DateTimeException e) {
            // told below, together with what is a zone to Java and not in the database
        }
        entry.problem("zone", "must be a zone of the IANA database such as Europe/Berlin, found " + name);
        return Optional.empty();
    }

    private static Optional<OpeningHours.Span> span(YamlMap section, String word, String text) {
        String[] parts = text.split("-", -1);
        try {
            if (parts.length == 2) {
                return Optional.of(new OpeningHours.Span(
                        LocalTime.parse(parts[0].strip()),
                        parts[1].strip().equals("24:00") ? LocalTime.MIDNIGHT : LocalTime.parse(parts[1].strip())));
            }
        } catch (DateTimeParseException e) {
            // told below
        }
        section.problem(word, "must be a span such as 07:00-18:00, found " + text);
        return Optional.empty();
    }

    private static List<DayOfWeek> days(YamlMap section, String word) {
        String[] ends = word.split("-", -1);
        Optional<DayOfWeek> first = day(ends[0]);
        Optional<DayOfWeek> last = day(ends[ends.length - 1]);
        if (ends.length > 2 || first.isEmpty() || last.isEmpty()) {
            section.problem(word, "must be a day or days such as mon or mon-fri");
            return List.of();
        }
        List<DayOfWeek> days = new ArrayList<>();
        for (DayOfWeek day = first.get(); ; day = day.plus(1)) {
            days.add(day);
            if (day == last.get()) {
                return days;
            }
        }
    }

    private static Optional<DayOfWeek> day(String word) {
        for (DayOfWeek day : DayOfWeek.values()) {
            if (dayWord(day).equals(word)) {
                return Optional.of(day);
            }
        }
        return Optional.empty();
    }

    private static String dayWord(DayOfWeek day) {
        return day.name().substring(0, 3).toLowerCase(Locale.ROOT);
    }
}
