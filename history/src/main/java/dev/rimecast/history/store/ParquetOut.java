package dev.rimecast.history.store;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.store.StoredFile.Range;
import dev.rimecast.history.table.Table;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;

/** Writes rows into a file: Parquet, compressed with zstd, with where they are from in its footer. */
final class ParquetOut {
    private final HistoryDirectory directory;

    ParquetOut(HistoryDirectory directory) {
        this.directory = directory;
    }

    /**
     * Writes the file and puts it in its place.
     *
     * @param rows as SQL, at least one
     */
    StoredFile write(Duck duck, Table table, String name, String rows, Optional<LocalDate> day, List<Range> offsets)
            throws IOException {
        String order = table.isOfLog() ? "log_partition, log_offset" : key(table);
        duck.run("copy (select * from (" + rows + ") order by " + order + ") to "
                + Duck.literal(directory.unfinished(name).toString())
                + " (format parquet, compression zstd, row_group_size 61440, kv_metadata {rimecast_table: "
                + Duck.literal(table.code()) + ", rimecast_version: '1', rimecast_day: "
                + Duck.literal(day.map(LocalDate::toString).orElse("")) + ", rimecast_offsets: "
                + Duck.literal(inWords(offsets)) + "})");
        long[] count = new long[3];
        String time = '"' + table.time() + '"';
        duck.ask(
                "select count(*), epoch_us(min(" + time + ")), epoch_us(max(" + time + ")) from read_parquet("
                        + Duck.literal(directory.unfinished(name).toString()) + ")",
                row -> {
                    for (int i = 0; i < count.length; i++) {
                        count[i] = row.getLong(i + 1);
                    }
                });
        directory.finish(name);
        Path file = directory.root().resolve(name);
        return new StoredFile(
                table,
                name,
                day,
                count[0],
                Files.size(file),
                count[1],
                count[2],
                offsets,
                Optional.of(FileSum.of(file)));
    }

    private static String key(Table table) {
        return table.key().stream().map(column -> '"' + column + '"').collect(Collectors.joining(", "));
    }

    /** As it stands in the footer: topic, its id, partition, first offset and the one after the last. */
    static String inWords(List<Range> offsets) {
        return offsets.stream()
                .map(range -> range.partition().topic()
                        + ' '
                        + range.partition().log()
                        + ' '
                        + range.partition().partition()
                        + ' '
                        + range.from()
                        + ' '
                        + range.to())
                .collect(Collectors.joining("\n"));
    }
}
