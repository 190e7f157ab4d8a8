package dev.rimecast.history.store;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.AlteredDayException;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.table.Table;
import java.io.IOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/** Makes days of batches: rows are filed by their day, in order, and each stands once. */
final class Compaction {
    /** A day that has more rows is split, so that one piece of it fits into memory. */
    static final int ROWS_A_FILE = 250_000;

    private final HistoryDirectory directory;
    private final Sources sources;
    private final ParquetOut out;

    Compaction(HistoryDirectory directory) {
        this.directory = directory;
        this.sources = new Sources(directory);
        this.out = new ParquetOut(directory);
    }

    /**
     * The files of the next manifest, all in their places.
     *
     * @param manifest that they are made of; its files stay
     * @throws AlteredDayException if a day's file that they are made of is not as it was written
     * @throws HistoryException if a batch is not
     */
    List<StoredFile> compact(Duck duck, Manifest manifest, Table table) throws IOException {
        List<StoredFile> batches = manifest.batches(table);
        // What is altered must not get a new file, whose sum would be right.
        directory.requireWhole(batches);
        Set<StoredFile> replaced = new HashSet<>(batches);
        List<StoredFile> made = new ArrayList<>();
        for (LocalDate day : days(duck, table, batches)) {
            List<StoredFile> before = manifest.of(table)
                    .filter(file -> file.day().equals(Optional.of(day)))
                    .toList();
            requireWhole(before);
            replaced.addAll(before);
            made.addAll(day(duck, manifest.generation() + 1, table, day, before, batches));
        }
        List<StoredFile> files = new ArrayList<>(manifest.files());
        files.removeAll(replaced);
        files.addAll(made);
        return files;
    }

    private void requireWhole(List<StoredFile> ofDay) {
        try {
            directory.requireWhole(ofDay);
        } catch (HistoryException e) {
            throw new AlteredDayException(e);
        }
    }

    private List<LocalDate> days(Duck duck, Table table, List<StoredFile> batches) {
        Map<LocalDate, Long> days = new TreeMap<>();
        duck.ask(
                "select \"" + table.time() + "\"::date as day, count(*) from (" + sources.files(table, batches)
                        + ") group by day",
                row -> days.put(LocalDate.parse(row.getString(1)), row.getLong(2)));
        return List.copyOf(days.keySet());
    }

    private List<StoredFile> day(
            Duck duck, long generation, Table table, LocalDate day, List<StoredFile> before, List<StoredFile> batches)
            throws IOException {
        long start = day.toEpochDay() * 86_400_000_000L;
        long end = start + 86_400_000_000L;
        List<StoredFile> touching = batches.stream()
                .filter(batch -> batch.fromMicros() < end && batch.toMicros() >= start)
                .toList();
        List<StoredFile> all = new ArrayList<>(before);
        all.addAll(touching);
        long most = all.stream().mapToLong(StoredFile::rows).sum();
        int parts = (int) Math.max(1, (most + ROWS_A_FILE - 1) / ROWS_A_FILE);
        List<StoredFile> files = new ArrayList<>();
        for (int part = 0; part < parts; part++) {
            String rows = "select * from (" + sources.files(table, all) + ") where \"" + table.time()
                    + "\" >= make_timestamp(" + start + ") and \"" + table.time() + "\" < make_timestamp(" + end + ")"
                    + (parts == 1 ? "" : " and hash(\"" + table.part() + "\") % " + parts + " = " + part);
            String name = table.code() + "/" + day + "." + generation + (parts == 1 ? "" : "." + part) + ".parquet";
            StoredFile file = out.write(duck, table, name, sources.once(table, rows), Optional.of(day), List.of());
            if (file.rows() > 0) {
                files.add(file);
            } else {
                java.nio.file.Files.deleteIfExists(directory.path(file));
            }
        }
        return files;
    }
}
