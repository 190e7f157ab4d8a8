package dev.rimecast.history.store;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.duck.Rows;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.store.StoredFile.Range;
import dev.rimecast.history.table.Shredder;
import dev.rimecast.history.table.Table;
import dev.rimecast.history.table.Taken;
import dev.rimecast.telemetry.log.Topics;
import java.io.IOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/** Records on their way into files: a file for each table that has rows of them. */
final class Batch {
    private static final int NAME_LENGTH = 160;

    private final HistoryDirectory directory;
    private final ParquetOut out;

    /**
     * What came of it.
     *
     * @param unreadable records that nobody can read, and that are in no file
     */
    record Written(List<StoredFile> files, long unreadable) {}

    Batch(HistoryDirectory directory) {
        this.directory = directory;
        this.out = new ParquetOut(directory);
    }

    Written write(Duck duck, long number, List<Taken> records) throws IOException {
        Map<Table, Rows> rows = new EnumMap<>(Table.class);
        long unreadable;
        // Else every 2,048 rows that are handed over are a transaction of their own, and are copied once more with its
        // end.
        duck.run("begin transaction");
        try {
            for (Table table : Table.values()) {
                duck.create(table, memory(table));
                rows.put(table, duck.fill(memory(table)));
            }
            Shredder shredder = new Shredder(table -> rows.get(table));
            records.forEach(shredder::take);
            unreadable = shredder.unreadable();
        } finally {
            rows.values().forEach(Rows::close);
        }
        Map<String, List<Range>> ranges = ranges(records);
        List<StoredFile> files = new ArrayList<>();
        for (Map.Entry<Table, Rows> filled : rows.entrySet()) {
            if (filled.getValue().rows() > 0) {
                Table table = filled.getKey();
                List<Range> offsets = ranges.getOrDefault(topic(table), List.of());
                files.add(out.write(
                        duck, table, name(table, number, offsets), "from " + memory(table), Optional.empty(), offsets));
            }
            duck.run("drop table " + memory(filled.getKey()));
        }
        duck.run("commit");
        return new Written(files, unreadable);
    }

    private static String memory(Table table) {
        return "batch_" + table.code();
    }

    static String topic(Table table) {
        return switch (table) {
            case READINGS, PACKS, RECORDS -> Topics.SITES;
            case CYCLES -> Topics.CYCLES;
            case FINDINGS -> Topics.FINDINGS;
            case PROOFS -> Topics.PROOFS;
        };
    }

    private static Map<String, List<Range>> ranges(List<Taken> records) {
        Map<Partition, Range> found = new LinkedHashMap<>();
        for (Taken record : records) {
            Partition partition = new Partition(record.topic(), record.log(), record.partition());
            found.merge(
                    partition,
                    new Range(partition, record.offset(), record.offset() + 1),
                    (a, b) -> new Range(partition, Math.min(a.from(), b.from()), Math.max(a.to(), b.to())));
        }
        Map<String, List<Range>> byTopic = new LinkedHashMap<>();
        found.values().stream()
                .sorted(Comparator.comparingInt(range -> range.partition().partition()))
                .forEach(range -> byTopic.computeIfAbsent(range.partition().topic(), topic -> new ArrayList<>())
                        .add(range));
        return byTopic;
    }

    /** With the offsets it is from, as partition.first-last, as far as a name can be long; all are in the footer. */
    private static String name(Table table, long number, List<Range> offsets) {
        StringBuilder name = new StringBuilder(String.format(Locale.ROOT, "%s/batch-%012d", table.code(), number));
        for (Range range : offsets) {
            if (name.length() > NAME_LENGTH) {
                name.append("_more");
                break;
            }
            name.append('_')
                    .append(range.partition().partition())
                    .append('.')
                    .append(range.from())
                    .append('-')
                    .append(range.to() - 1);
        }
        return name.append(".parquet").toString();
    }

    HistoryDirectory directory() {
        return directory;
    }
}
