package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.yaml.Range;
import java.io.IOException;
import java.nio.file.Path;
import java.time.DateTimeException;
import java.time.DayOfWeek;
import java.time.ZoneId;
import java.util.Collection;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.IllformedLocaleException;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** {@code sites.csv}. Closed days are English names of days, whole or three letters, with {@code ;} between them. */
public final class SitesFile {
    static final Columns COLUMNS = new Columns(
            List.of("site"),
            List.of(
                    "name",
                    "time_zone",
                    "open",
                    "close",
                    "closed_days",
                    "contact",
                    "language",
                    "kg_per_day",
                    "response_hours"));

    private static final ZoneId UTC = ZoneId.of("UTC");

    private final Map<String, Long> lineOfSite = new HashMap<>();

    private SitesFile() {}

    /**
     * Reads the sites.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<Site> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, new SitesFile()::site);
    }

    private Site site(CsvRow row) {
        String id = row.id("site");
        Long first = row.isGood("site") ? lineOfSite.putIfAbsent(id, row.line()) : null;
        if (first != null) {
            row.problem("site", id + " is here twice, first in line " + first + ": delete one of the lines");
        }
        return new Site(
                id,
                row.text("name").orElse(id),
                zone(row),
                row.timeOfDay("open"),
                row.timeOfDay("close"),
                closedDays(row),
                row.text("contact"),
                language(row),
                row.number("kg_per_day", Range.of(0, 100_000)),
                row.number("response_hours", Range.of(0, 10_000)));
    }

    private static ZoneId zone(CsvRow row) {
        Optional<String> text = row.text("time_zone");
        try {
            return text.map(ZoneId::of).orElse(UTC);
        } catch (DateTimeException e) {
            row.problem("time_zone", "must be a zone such as Europe/London, found '" + text.orElse("") + "'");
            return UTC;
        }
    }

    private static Set<DayOfWeek> closedDays(CsvRow row) {
        Set<DayOfWeek> days = EnumSet.noneOf(DayOfWeek.class);
        for (String part : row.text("closed_days").orElse("").split(";", -1)) {
            String word = part.strip().toUpperCase(Locale.ROOT);
            if (word.isEmpty()) {
                continue;
            }
            Optional<DayOfWeek> day = Set.of(DayOfWeek.values()).stream()
                    .filter(d ->
                            d.name().equals(word) || d.name().substring(0, 3).equals(word))
                    .findFirst();
            day.ifPresentOrElse(
                    days::add,
                    () -> row.problem(
                            "closed_days", "must be days such as sunday;monday, found '" + part.strip() + "'"));
        }
        return days;
    }

    private static Optional<String> language(CsvRow row) {
        Optional<String> text = row.text("language");
        try {
            return text.map(
                    tag -> new Locale.Builder().setLanguageTag(tag).build().toLanguageTag());
        } catch (IllformedLocaleException e) {
            row.problem("language", "must be a language tag such as en or pt-BR, found '" + text.orElse("") + "'");
            return Optional.empty();
        }
    }

    /** Writes sites with every column. */
    public static void write(Path file, Collection<Site> sites) throws IOException {
        try (CsvOutput out = new CsvOutput(file, COLUMNS.all())) {
            for (Site site : sites) {
                out.row(List.of(
                        site.id(),
                        site.name(),
                        site.timeZone().getId(),
                        Cells.of(site.open()),
                        Cells.of(site.close()),
                        site.closedDays().stream()
                                .sorted()
                                .map(day -> day.name().toLowerCase(Locale.ROOT))
                                .collect(Collectors.joining(";")),
                        Cells.of(site.contact()),
                        Cells.of(site.language()),
                        Cells.of(site.kgPerDay()),
                        Cells.of(site.responseHours())));
            }
        }
    }
}
