package dev.rimecast.telemetry.file.csv;

import dev.rimecast.telemetry.machine.Ids;
import dev.rimecast.telemetry.yaml.NearestKey;
import dev.rimecast.telemetry.yaml.Range;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeParseException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.function.Function;

/**
 * The cells of one row, taken by column and type. An empty cell, or a column that the file does not have, is absent. A
 * cell that is wrong is noted and read as absent, so that everything wrong is told at once.
 */
public final class CsvRow {
    private final String file;
    private final long line;
    private final Map<String, Integer> positions;
    private final List<String> cells;
    private final List<InputProblem> problems;

    CsvRow(String file, long line, Map<String, Integer> positions, List<String> cells, List<InputProblem> problems) {
        this.file = file;
        this.line = line;
        this.positions = positions;
        this.cells = cells;
        this.problems = problems;
    }

    /** Line on which the row starts, counted from 1. */
    public long line() {
        return line;
    }

    /** Notes a problem; {@code column} may be empty for one of the row as a whole. */
    public void problem(String column, String what) {
        problems.add(new InputProblem(file, line, column, what));
    }

    /** Whether the cell is there and nothing is known to be wrong with it. */
    public boolean isGood(String column) {
        return text(column).isPresent()
                && problems.stream()
                        .noneMatch(p -> p.line() == line && p.column().equals(column));
    }

    public Optional<String> text(String column) {
        Integer position = positions.get(column);
        return position == null || cells.get(position).isEmpty() ? Optional.empty() : Optional.of(cells.get(position));
    }

    /** The text; if it is absent that is a problem, and the result empty. */
    public String required(String column) {
        return text(column).orElseGet(() -> {
            problem(column, "must not be empty");
            return "";
        });
    }

    /** An identifier that must be there. */
    public String id(String column) {
        return optionalId(column).orElseGet(() -> {
            if (text(column).isEmpty()) {
                problem(column, "must not be empty");
            }
            return "unknown";
        });
    }

    public Optional<String> optionalId(String column) {
        Optional<String> text = text(column);
        if (text.isPresent() && !Ids.isLegal(text.get())) {
            bad(column, "an identifier of a-z, 0-9, dot, underscore and dash, at most 63 long");
            return Optional.empty();
        }
        return text;
    }

    public OptionalDouble number(String column, Range range) {
        Optional<String> text = text(column);
        if (text.isEmpty()) {
            return OptionalDouble.empty();
        }
        OptionalDouble value = Decimals.parse(text.get());
        if (value.isEmpty() || !range.contains(value.getAsDouble())) {
            bad(column, range.toString());
            return OptionalDouble.empty();
        }
        return value;
    }

    /** A whole number from {@code low} to {@code high}, both included. */
    public OptionalInt integer(String column, int low, int high) {
        OptionalDouble value = number(column, Range.ANY);
        if (value.isEmpty()) {
            return OptionalInt.empty();
        }
        double number = value.getAsDouble();
        if (number != StrictMath.rint(number) || number < low || number > high) {
            bad(column, "a whole number from " + low + " to " + high);
            return OptionalInt.empty();
        }
        return OptionalInt.of((int) number);
    }

    public Optional<LocalDate> date(String column) {
        return parsed(column, "a date such as 2026-05-04", LocalDate::parse);
    }

    public Optional<LocalTime> timeOfDay(String column) {
        return parsed(column, "a time of day such as 07:30", LocalTime::parse);
    }

    public Optional<Instant> instant(String column) {
        Optional<String> text = text(column);
        Optional<Instant> instant = text.flatMap(IsoTime::parse);
        if (text.isPresent() && instant.isEmpty()) {
            bad(column, "a time with offset such as 2026-05-04T07:30:00Z or 2026-05-04T09:30:00+02:00");
        }
        return instant;
    }

    /** One of an enum's words. */
    public <E extends Enum<E>> Optional<E> word(String column, Class<E> type, Function<E, String> word) {
        Optional<String> text = text(column);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        Map<String, E> words = new LinkedHashMap<>();
        for (E constant : type.getEnumConstants()) {
            words.put(word.apply(constant), constant);
        }
        E found = words.get(text.get());
        if (found == null) {
            problem(
                    column,
                    "must be one of " + String.join(", ", words.keySet()) + ", found '" + text.get() + "'"
                            + NearestKey.hint(text.get(), words.keySet()));
        }
        return Optional.ofNullable(found);
    }

    private <T> Optional<T> parsed(String column, String must, Function<String, T> parser) {
        try {
            return text(column).map(parser);
        } catch (DateTimeParseException e) {
            bad(column, must);
            return Optional.empty();
        }
    }

    private void bad(String column, String must) {
        problem(column, "must be " + must + ", found '" + text(column).orElse("") + "'");
    }
}
