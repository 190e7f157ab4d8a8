package dev.rimecast.history.query;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.telemetry.file.result.CyclesFile;
import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * A view into a file. CSV has what the contract's file of that name has, so that whatever reads that reads this: readings are a
 * telemetry log, cycles and alerts what a replay writes. Parquet has every column.
 */
public final class Export {
    private static final Set<String> NOT_IN_LOG = Set.of("site", "gateway", "arrived_at", "log_offset");
    private static final Set<String> NOT_IN_ALERTS = Set.of("site", "gateway", "revisions", "detector", "policy");

    private Export() {}

    /**
     * What is wanted of a view; empty: everything.
     *
     * @param from inclusive
     * @param to exclusive
     */
    public record Part(Optional<Instant> from, Optional<Instant> to, Optional<String> site, Optional<String> machine) {
        public static final Part ALL = new Part(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
    }

    /** A column as the database knows it. */
    private record Known(String name, String type) {}

    /**
     * Writes the file; its name says how: {@code .csv}, {@code .csv.gz}, {@code .csv.zst} or {@code .parquet}.
     *
     * @return rows written
     * @throws FileAlreadyExistsException if it is there
     * @throws HistoryException if the name says nothing, or the view has no such column
     */
    public static long write(History history, View view, Part part, Path file) throws IOException {
        String name = file.getFileName().toString().toLowerCase(Locale.ROOT);
        boolean isParquet = name.endsWith(".parquet");
        if (!isParquet && Stream.of(".csv", ".csv.gz", ".csv.zst").noneMatch(name::endsWith)) {
            throw new HistoryException(
                    "how is " + file + " to be written? Let it end in .csv, .csv.gz, .csv.zst or .parquet");
        }
        if (Files.exists(file)) {
            throw new FileAlreadyExistsException(file.toString());
        }
        List<Known> columns = columns(history.duck(), view);
        String order = order(view);
        String rows = "from " + view.code() + where(view, part, columns) + " order by " + order;
        String select = (isParquet ? columns : ofFile(view, columns))
                .stream()
                        .map(column -> isParquet ? quoted(column.name()) : cell(view, column))
                        .collect(Collectors.joining(", "));
        String how = isParquet
                ? "format parquet, compression zstd"
                : "format csv, header true, compression "
                        + (name.endsWith(".gz") ? "gzip" : name.endsWith(".zst") ? "zstd" : "none");
        return history.duck()
                .copy("copy (select " + select + " " + rows + ") to "
                        + Duck.literal(file.toAbsolutePath().toString()) + " (" + how + ")");
    }

    /** As the contract's files are sorted; what is about no machine comes first. */
    private static String order(View view) {
        return switch (view) {
            case READINGS -> "time, machine";
            case CYCLES -> "freeze_start, machine";
            case ALERTS -> "raised_at, machine nulls first, condition, alert";
            case OUTCOMES, EVENTS -> "happened_at, site, machine nulls first, event, detail";
            case FINDINGS -> "finding, revision";
            case PROOFS -> "proof, revision";
            case PACKS, RECORDS -> "log, log_partition, log_offset";
        };
    }

    private static List<Known> columns(Duck duck, View view) {
        List<Known> columns = new ArrayList<>();
        duck.ask(
                "select column_name, column_type from (describe " + view.code() + ")",
                row -> columns.add(new Known(row.getString(1), row.getString(2))));
        return columns;
    }

    private static List<Known> ofFile(View view, List<Known> columns) {
        return switch (view) {
            case READINGS ->
                columns.stream()
                        .filter(column -> !NOT_IN_LOG.contains(column.name()))
                        .toList();
            case ALERTS ->
                columns.stream()
                        .filter(column -> !NOT_IN_ALERTS.contains(column.name()))
                        .toList();
            case CYCLES ->
                CyclesFile.columns().stream()
                        .flatMap(name ->
                                columns.stream().filter(column -> column.name().equals(name)))
                        .toList();
            default -> columns;
        };
    }

    /** As the contract's files have it: times with Z, flags as 1 and 0. */
    private static String cell(View view, Known column) {
        String name = quoted(column.name());
        return switch (column.type()) {
            case "TIMESTAMP" -> "strftime(" + name + ", '%Y-%m-%dT%H:%M:%S.%gZ') as " + name;
            case "BOOLEAN" -> name + "::integer as " + name;
            case "BLOB" -> "hex(" + name + ") as " + name;
            case "DOUBLE" ->
                decimals(view, column.name())
                        .map(digits -> "case when " + name + " is not null then printf('%." + digits + "f', " + name
                                + ") end as " + name)
                        .orElse(name);
            default -> name;
        };
    }

    /** Results are written rounded, readings as they came. */
    private static Optional<Integer> decimals(View view, String column) {
        if (view == View.READINGS) {
            return Optional.empty();
        }
        if (column.endsWith("_c")) {
            return Optional.of(2);
        }
        if (column.endsWith("_s")) {
            return Optional.of(1);
        }
        return column.endsWith("probability") ? Optional.of(3) : Optional.empty();
    }

    private static String where(View view, Part part, List<Known> columns) {
        List<String> conditions = new ArrayList<>();
        String time = quoted(view.time());
        part.from().ifPresent(from -> conditions.add(time + " >= " + timestamp(from)));
        part.to().ifPresent(to -> conditions.add(time + " < " + timestamp(to)));
        part.site().ifPresent(site -> conditions.add(equal(view, "site", site, columns)));
        part.machine().ifPresent(machine -> conditions.add(equal(view, "machine", machine, columns)));
        return conditions.isEmpty() ? "" : " where " + String.join(" and ", conditions);
    }

    private static String equal(View view, String column, String value, List<Known> columns) {
        if (columns.stream().noneMatch(known -> known.name().equals(column))) {
            throw new HistoryException(view.code() + " has no column " + column + ": leave --" + column + " out");
        }
        return quoted(column) + " = " + Duck.literal(value);
    }

    private static String timestamp(Instant at) {
        return "make_timestamp(" + Math.multiplyExact(at.toEpochMilli(), 1000L) + ")";
    }

    private static String quoted(String name) {
        return '"' + name + '"';
    }
}
