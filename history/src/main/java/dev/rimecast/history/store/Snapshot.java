package dev.rimecast.history.store;

import dev.rimecast.history.store.StoredFile.Partition;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/**
 * The monitors' states of a partition of the sites' log at an offset, by the policies that were in force.
 *
 * @param from first offset that they have seen: 0 is the log's beginning
 * @param next first offset that they have not seen
 * @param arrived when the last record that they have seen came in
 * @param until the newest minute that they have seen
 * @param week begun when it was made, in whole weeks from a Monday: one is made a week
 * @param version of detection and of the product's policy: a digest
 * @param name of the file, below the history's directory
 * @param bytes its length
 */
public record Snapshot(
        Partition partition,
        long from,
        long next,
        Instant arrived,
        Instant until,
        long week,
        String version,
        String name,
        long bytes) {
    /** One a week: enough for a question about the last 90 days. */
    static final int KEPT = 15;

    /** Those that stay when a new one comes: of its version and of its log, and the newest of them. */
    static List<Snapshot> staying(List<Snapshot> before, Snapshot added) {
        List<Snapshot> own = new ArrayList<>();
        List<Snapshot> staying = new ArrayList<>();
        for (Snapshot other : before) {
            boolean isOfPartition = other.partition.topic().equals(added.partition.topic())
                    && other.partition.partition() == added.partition.partition();
            if (!isOfPartition) {
                staying.add(other);
            } else if (other.partition.equals(added.partition)
                    && other.version.equals(added.version)
                    && other.next < added.next) {
                own.add(other);
            }
        }
        own.add(added);
        own.sort(Comparator.comparingLong(Snapshot::next));
        staying.addAll(own.subList(Math.max(0, own.size() - KEPT), own.size()));
        return staying;
    }

    /** Weeks that had begun, from Monday 00:00 UTC on. */
    public static long weekOf(Instant at) {
        return Math.floorDiv(Math.floorDiv(at.getEpochSecond(), 86_400L) + 3, 7L);
    }

    public Path in(HistoryDirectory directory) {
        return directory.root().resolve(name);
    }
}
