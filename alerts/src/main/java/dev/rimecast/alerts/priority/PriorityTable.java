package dev.rimecast.alerts.priority;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collection;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;

/**
 * A priority book as a table of consequence and time left: asked for every case that there can be, so that it says what
 * the book does and not what it was meant to do.
 *
 * @param within upper ends of the columns of time, the shortest first; one more column stands for all that is later, or
 *     has no date
 * @param groups conditions that the book treats alike; planned care is in none, since no rule touches it
 */
public record PriorityTable(List<Duration> within, List<Group> groups) {

    /**
     * @param countsIce whether the site's ice clock counts for them
     * @param rows empty where detection's own priority always stands
     */
    public record Group(List<Condition> conditions, boolean countsIce, List<Row> rows) {}

    /**
     * What follows, and what the book makes of it.
     *
     * @param stages that are treated alike
     * @param cells one for each column
     */
    public record Row(Clocks.Ice ice, List<Stage> stages, List<Cell> cells) {}

    /** @param changes what is decided otherwise than detection found; empty where its own priority stands */
    public record Cell(List<Change> changes) {}

    /** @param rule which rule decides, from 0 */
    public record Change(List<Priority> found, Priority priority, int rule) {}

    public static PriorityTable of(PriorityBook book) {
        List<Duration> within = bounds(book);
        Map<List<Object>, List<Condition>> alike = new LinkedHashMap<>();
        Map<Condition, List<Row>> rows = new EnumMap<>(Condition.class);
        for (Condition condition : conditions()) {
            List<Row> own = rows(book, condition, within);
            rows.put(condition, own);
            alike.computeIfAbsent(List.of(book.makesLessIce(condition), own), key -> new ArrayList<>())
                    .add(condition);
        }
        List<Group> groups = alike.values().stream()
                .map(conditions -> new Group(
                        List.copyOf(conditions),
                        book.makesLessIce(conditions.get(0)),
                        Objects.requireNonNull(rows.get(conditions.get(0)))))
                .toList();
        return new PriorityTable(within, groups);
    }

    /** The rules that decide something, from 0. */
    static Set<Integer> used(PriorityBook book) {
        List<Optional<Duration>> columns = columns(bounds(book));
        Set<Integer> used = new HashSet<>();
        for (Condition condition : conditions()) {
            for (Clocks.Ice ice : ices(book, condition)) {
                for (Optional<Duration> left : columns) {
                    for (Stage stage : Stage.values()) {
                        for (Priority found : Priority.values()) {
                            book.ruleFor(found, stage, condition, ice, left).ifPresent(used::add);
                        }
                    }
                }
            }
        }
        return used;
    }

    /**
     * Conditions for which the book can say less than detection found, where {@code standard} never does.
     */
    public static Set<Condition> loweredBeyond(PriorityBook standard, PriorityBook book) {
        Set<Condition> lowered = lowered(book);
        lowered.removeAll(lowered(standard));
        return lowered;
    }

    private static Set<Condition> lowered(PriorityBook book) {
        Set<Condition> lowered = EnumSet.noneOf(Condition.class);
        of(book).groups().stream()
                .filter(group -> group.rows().stream()
                        .flatMap(row -> row.cells().stream())
                        .flatMap(cell -> cell.changes().stream())
                        .anyMatch(change -> change.found().get(0).compareTo(change.priority()) < 0))
                .forEach(group -> lowered.addAll(group.conditions()));
        return lowered;
    }

    private static List<Condition> conditions() {
        return Stream.of(Condition.values()).filter(c -> !c.isCare()).toList();
    }

    private static List<Duration> bounds(PriorityBook book) {
        return book.rules().stream()
                .flatMap(rule -> rule.within().stream())
                .distinct()
                .sorted()
                .toList();
    }

    private static List<Optional<Duration>> columns(List<Duration> within) {
        return Stream.concat(within.stream().map(Optional::of), Stream.of(Optional.<Duration>empty()))
                .toList();
    }

    /** Without an ice clock that counts, nothing is known of the ice as far as an alert is concerned. */
    private static Collection<Clocks.Ice> ices(PriorityBook book, Condition condition) {
        return book.makesLessIce(condition) ? List.of(Clocks.Ice.values()) : List.of(Clocks.Ice.NOT_KNOWN);
    }

    private static List<Row> rows(PriorityBook book, Condition condition, List<Duration> within) {
        List<Row> rows = new ArrayList<>();
        for (Clocks.Ice ice : ices(book, condition)) {
            Map<List<Cell>, List<Stage>> alike = new LinkedHashMap<>();
            for (Stage stage : List.of(Stage.STOPPED, Stage.AT_LIMIT, Stage.EARLY)) {
                List<Cell> cells = columns(within).stream()
                        .map(left -> cell(book, condition, ice, stage, left))
                        .toList();
                alike.computeIfAbsent(cells, key -> new ArrayList<>()).add(stage);
            }
            alike.forEach((cells, stages) -> rows.add(new Row(ice, List.copyOf(stages), cells)));
        }
        boolean isPlain = rows.stream()
                .allMatch(row ->
                        row.cells().stream().allMatch(cell -> cell.changes().isEmpty()));
        return isPlain ? List.of() : List.copyOf(rows);
    }

    private static Cell cell(
            PriorityBook book, Condition condition, Clocks.Ice ice, Stage stage, Optional<Duration> left) {
        Map<Integer, List<Priority>> byRule = new LinkedHashMap<>();
        for (Priority found : Priority.values()) {
            OptionalInt rule = book.ruleFor(found, stage, condition, ice, left);
            if (rule.isPresent() && book.rules().get(rule.getAsInt()).priority() != found) {
                byRule.computeIfAbsent(rule.getAsInt(), key -> new ArrayList<>())
                        .add(found);
            }
        }
        return new Cell(byRule.entrySet().stream()
                .map(entry -> new Change(
                        List.copyOf(entry.getValue()),
                        book.rules().get(entry.getKey()).priority(),
                        entry.getKey()))
                .toList());
    }
}
