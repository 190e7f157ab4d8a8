package dev.rimecast.history.store;

import dev.rimecast.history.table.Table;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;

/**
 * A file of the history.
 *
 * @param name below the history's directory, with slashes
 * @param day whose rows it has; empty for a batch, which is in the order of arrival
 * @param bytes its length
 * @param fromMicros time of its oldest row, by {@link Table#time}; microseconds since 1970, UTC
 * @param toMicros time of its newest row
 * @param offsets of a batch: what it is from
 * @param sum of its bytes, by {@link FileSum}; empty where a version wrote it that made none
 */
public record StoredFile(
        Table table,
        String name,
        Optional<LocalDate> day,
        long rows,
        long bytes,
        long fromMicros,
        long toMicros,
        List<Range> offsets,
        Optional<String> sum) {
    public StoredFile {
        offsets = List.copyOf(offsets);
    }

    /** Without a sum. */
    public StoredFile(
            Table table,
            String name,
            Optional<LocalDate> day,
            long rows,
            long bytes,
            long fromMicros,
            long toMicros,
            List<Range> offsets) {
        this(table, name, day, rows, bytes, fromMicros, toMicros, offsets, Optional.empty());
    }

    public boolean isBatch() {
        return day.isEmpty();
    }

    /**
     * Records of a partition.
     *
     * @param from first offset
     * @param to the offset after the last one
     */
    public record Range(Partition partition, long from, long to) {}

    /**
     * A partition of a topic.
     *
     * @param log the topic's id: a topic that is made again is another log
     */
    public record Partition(String topic, String log, int partition) {}
}
