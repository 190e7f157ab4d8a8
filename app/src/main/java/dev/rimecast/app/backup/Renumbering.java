package dev.rimecast.app.backup;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import org.apache.kafka.common.TopicPartition;

/**
 * Where offsets of an archive are in new logs: a log begins at 0 there and has no gaps, so an offset becomes the number of
 * records before it.
 */
final class Renumbering {
    private final Map<TopicPartition, Offsets> partitions = new HashMap<>();

    /** Old offsets of the records of one partition, ascending. */
    private static final class Offsets {
        private long[] old = new long[64];
        private int count;
    }

    /** @param offset where the next record was */
    void add(TopicPartition partition, long offset) {
        Offsets offsets = partitions.computeIfAbsent(partition, unused -> new Offsets());
        if (offsets.count == offsets.old.length) {
            offsets.old = Arrays.copyOf(offsets.old, 2 * offsets.count);
        }
        offsets.old[offsets.count++] = offset;
    }

    /** Of the records so far, those before {@code offset}. */
    long of(TopicPartition partition, long offset) {
        Offsets offsets = partitions.get(partition);
        if (offsets == null) {
            return 0;
        }
        int found = Arrays.binarySearch(offsets.old, 0, offsets.count, offset);
        return found >= 0 ? found : -found - 1;
    }
}
