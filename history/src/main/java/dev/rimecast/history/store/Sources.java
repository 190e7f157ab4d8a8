package dev.rimecast.history.store;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.table.Column;
import dev.rimecast.history.table.Table;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/**
 * The rows of a table as SQL. Columns that a file lacks are empty, columns that the table lacks are ignored. A row that is there
 * twice is there once: days have no repeats in themselves, so only the time that batches reach into is looked at.
 */
public final class Sources {
    private final HistoryDirectory directory;

    public Sources(HistoryDirectory directory) {
        this.directory = directory;
    }

    /** Every row of the table, each once. */
    public String rows(Table table, Manifest manifest) {
        List<StoredFile> batches = manifest.batches(table);
        List<StoredFile> days =
                manifest.of(table).filter(file -> !file.isBatch()).toList();
        if (batches.isEmpty()) {
            return files(table, days);
        }
        long from = batches.stream().mapToLong(StoredFile::fromMicros).min().orElseThrow();
        long to = batches.stream().mapToLong(StoredFile::toMicros).max().orElseThrow();
        List<StoredFile> met = days.stream()
                .filter(day -> day.toMicros() >= from && day.fromMicros() <= to)
                .toList();
        List<StoredFile> apart = days.stream().filter(day -> !met.contains(day)).toList();
        String between = '"' + table.time() + "\" between make_timestamp(" + from + ") and make_timestamp(" + to + ")";
        List<String> parts = new ArrayList<>();
        if (!apart.isEmpty()) {
            parts.add(files(table, apart));
        }
        if (!met.isEmpty()) {
            parts.add("select * from (" + files(table, met) + ") where not (" + between + ")");
        }
        String fresh = files(table, batches);
        if (!met.isEmpty()) {
            fresh = "select * from (" + files(table, met) + ") where " + between + " union all (" + fresh + ")";
        }
        parts.add(once(table, fresh));
        return parts.stream().map(part -> "(" + part + ")").collect(Collectors.joining(" union all "));
    }

    /** The rows of some files, repeats and all. */
    String files(Table table, List<StoredFile> files) {
        String columns = columns(table);
        String none = table.columns().stream()
                .map(column -> "null::" + column.kind().sql() + " as " + column.quoted())
                .collect(Collectors.joining(", ", "select ", " where false"));
        if (files.isEmpty()) {
            return none;
        }
        String list = files.stream()
                .map(file -> Duck.literal(directory.path(file).toString()))
                .collect(Collectors.joining(", ", "[", "]"));
        return "select " + columns + " from (" + none + " union all by name select * from read_parquet(" + list
                + ", union_by_name = true))";
    }

    /** Rows with the same key become one: the one that was stored first, or, of readings, what was stored first of each channel. */
    String once(Table table, String rows) {
        String key = table.key().stream().map(name -> '"' + name + '"').collect(Collectors.joining(", "));
        if (!table.isMerged()) {
            String order = table.isOfLog() ? "" : " order by " + key + ", \"arrived_at\", \"log_offset\"";
            return "select distinct on (" + key + ") " + columns(table) + " from (" + rows + ")" + order;
        }
        String cells =
                table.columns().stream().map(column -> cell(table, column)).collect(Collectors.joining(", "));
        return "select " + cells + " from (" + rows + ") as repeated group by " + key;
    }

    private static String cell(Table table, Column column) {
        String name = column.quoted();
        if (table.key().contains(column.name())) {
            return name;
        }
        String of = "repeated." + name;
        return switch (column.name()) {
            case "arrived_at", "log_offset" -> "min(" + of + ") as " + name;
            default -> "arg_min(" + of + ", row(repeated.\"arrived_at\", repeated.\"log_offset\")) as " + name;
        };
    }

    static String columns(Table table) {
        return table.columns().stream().map(Column::quoted).collect(Collectors.joining(", "));
    }
}
