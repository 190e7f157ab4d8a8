package dev.rimecast.alerts.visits.file;

import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.Engineer.Away;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.machine.Ids;
import java.io.IOException;
import java.nio.file.Path;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;

/**
 * {@code engineers.csv}: who can be sent.
 *
 * <table>
 * <caption>Columns</caption>
 * <tr><td>engineer</td><td>the name as people say it, once</td></tr>
 * <tr><td>days</td><td>{@code mon-fri}, {@code tue;thu} or both; empty: mon-fri</td></tr>
 * <tr><td>skills</td><td>keys of {@code skills} in advice.yaml with {@code ;} between them; {@code *}: all</td></tr>
 * <tr><td>sites</td><td>where they go, with {@code ;} between them; {@code *} or empty: everywhere</td></tr>
 * <tr><td>minutes_per_day</td><td>on the road and on sites; empty: 480</td></tr>
 * <tr><td>away</td><td>days such as {@code 2026-12-20..2027-01-03;2027-02-05}, the first and the last included; empty:
 * none</td></tr>
 * </table>
 */
public final class EngineersFile {
    static final Columns COLUMNS =
            new Columns(List.of("engineer", "skills"), List.of("days", "sites", "minutes_per_day", "away"));

    private static final String EVERY = "*";
    private static final int LONGEST_NAME = 60;
    private static final int USUAL_MINUTES = 480;
    private static final Pattern SKILL = Pattern.compile("[a-z][a-z0-9-]{0,39}");

    private final Map<String, Long> lineOfEngineer = new HashMap<>();

    private EngineersFile() {}

    /**
     * Reads the engineers.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static Team read(Path file) throws IOException {
        return new Team(CsvTable.read(file, COLUMNS, new EngineersFile()::engineer), true);
    }

    private Engineer engineer(CsvRow row) {
        String name = row.required("engineer");
        Long first = name.isEmpty() ? null : lineOfEngineer.putIfAbsent(name, row.line());
        if (first != null) {
            row.problem("engineer", name + " is here twice, first in line " + first + ": delete one of the lines");
        }
        if (name.length() > LONGEST_NAME) {
            row.problem("engineer", "must have at most " + LONGEST_NAME + " characters");
        }
        return new Engineer(
                name,
                days(row),
                words(row, "skills", row.required("skills"), SKILL, "keys of advice.yaml such as appliance;electrical"),
                sites(row),
                row.integer("minutes_per_day", 30, 24 * 60).orElse(USUAL_MINUTES),
                away(row));
    }

    private static List<Away> away(CsvRow row) {
        List<Away> away = new ArrayList<>();
        for (String part : row.text("away").orElse("").split(";", -1)) {
            String[] ends = part.strip().split("\\.\\.", -1);
            Optional<LocalDate> from = date(ends[0]);
            Optional<LocalDate> until = date(ends[ends.length - 1]);
            if (ends.length <= 2
                    && from.isPresent()
                    && until.isPresent()
                    && !until.get().isBefore(from.get())) {
                away.add(new Away(from.get(), until.get()));
            } else if (!part.isBlank()) {
                row.problem(
                        "away",
                        "must be days such as 2026-12-20..2027-01-03 or 2027-02-05, found '" + part.strip() + "'");
            }
        }
        return away;
    }

    private static Optional<LocalDate> date(String text) {
        try {
            return Optional.of(LocalDate.parse(text.strip()));
        } catch (DateTimeParseException e) {
            return Optional.empty();
        }
    }

    private static Set<DayOfWeek> days(CsvRow row) {
        String text = row.text("days").orElse("mon-fri");
        Set<DayOfWeek> days = EnumSet.noneOf(DayOfWeek.class);
        for (String part : text.split(";", -1)) {
            String[] ends = part.strip().split("-", -1);
            Optional<DayOfWeek> from = day(ends[0]);
            Optional<DayOfWeek> to = day(ends[ends.length - 1]);
            if (ends.length > 2 || from.isEmpty() || to.isEmpty()) {
                row.problem("days", "must be days such as mon-fri or tue;thu, found '" + part.strip() + "'");
                continue;
            }
            for (DayOfWeek day = from.get(); ; day = day.plus(1)) {
                days.add(day);
                if (day == to.get()) {
                    break;
                }
            }
        }
        return days;
    }

    private static Optional<DayOfWeek> day(String text) {
        String word = text.strip().toUpperCase(Locale.ROOT);
        return List.of(DayOfWeek.values()).stream()
                .filter(d -> d.name().equals(word) || d.name().substring(0, 3).equals(word))
                .findFirst();
    }

    private static Optional<Set<String>> sites(CsvRow row) {
        String text = row.text("sites").orElse(EVERY);
        Optional<Set<String>> sites = words(row, "sites", text, Pattern.compile(".+"), "sites");
        sites.ifPresent(all -> all.stream()
                .filter(site -> !Ids.isLegal(site))
                .forEach(site -> row.problem("sites", "'" + site + "' is no identifier of a site")));
        return sites;
    }

    /** Empty where it is all of them. */
    private static Optional<Set<String>> words(CsvRow row, String column, String text, Pattern each, String what) {
        if (text.strip().equals(EVERY)) {
            return Optional.empty();
        }
        Set<String> words = new TreeSet<>();
        for (String part : text.split(";", -1)) {
            String word = part.strip();
            if (each.matcher(word).matches()) {
                words.add(word);
            } else if (!text.isBlank()) {
                row.problem(column, "must be " + what + ", or *, found '" + word + "'");
            }
        }
        return Optional.of(words);
    }
}
