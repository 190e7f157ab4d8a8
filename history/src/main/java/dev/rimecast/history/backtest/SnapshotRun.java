package dev.rimecast.history.backtest;

import dev.rimecast.history.query.History;
import dev.rimecast.history.state.StateFile;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.store.Manifest;
import dev.rimecast.history.store.Snapshot;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.table.Table;
import dev.rimecast.telemetry.log.Topics;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Comparator;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.LongSupplier;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;

/**
 * Makes a snapshot of the monitors a week for each partition, from the history itself: it goes on from the last one with what has come
 * in since, by the policies that were in force. Weeks are those of arrival, from Monday 00:00 UTC. The first time, and with a new
 * version of detection, it goes through all there is, and leaves a snapshot at the beginning of each week on its way.
 *
 * <p>It works a little at a time. What is in memory is the monitors of one partition, while it is under way; a stop costs what was
 * done since the last snapshot.
 */
public final class SnapshotRun {
    private static final int MEMORY_MEGABYTES = 96;

    private final HistoryWriter writer;
    private final LongSupplier nanos;
    private final int chunk;
    /** Of which the history has nothing: of a log that was begun anew. */
    private final Set<Partition> nothing = new HashSet<>();

    private @Nullable Pass pass;

    /** A partition that is under way. */
    private static final class Pass {
        private final Stretch stretch;
        private final long from;
        private final PartitionRun.Reached reached;
        private long week;
        private long arrivedMillis;

        Pass(Stretch stretch, long from, PartitionRun.Reached reached, long week, long arrivedMillis) {
            this.stretch = stretch;
            this.from = from;
            this.reached = reached;
            this.week = week;
            this.arrivedMillis = arrivedMillis;
        }
    }

    /** @param nanos for how long it works */
    public SnapshotRun(HistoryWriter writer, LongSupplier nanos) {
        this(writer, nanos, PartitionRun.CHUNK);
    }

    SnapshotRun(HistoryWriter writer, LongSupplier nanos, int chunk) {
        this.writer = writer;
        this.nanos = nanos;
        this.chunk = chunk;
    }

    /**
     * Goes on for a while, where a week has begun.
     *
     * @param mostNanos after which it stops at the next step; it takes at least one
     * @return whether there is more to do
     */
    public boolean advance(Instant now, long mostNanos) {
        if (pass == null && due(now).isEmpty()) {
            return false;
        }
        long begun = nanos.getAsLong();
        HistoryDirectory directory = writer.directory();
        try (History history = History.open(directory.root(), MEMORY_MEGABYTES, false)) {
            do {
                Pass current = pass;
                if (current == null) {
                    Optional<Partition> next = due(now);
                    if (next.isEmpty()) {
                        return false;
                    }
                    pass = begin(history, next.get());
                    if (pass == null) {
                        nothing.add(next.get());
                    }
                } else {
                    step(history, current, Snapshot.weekOf(now));
                }
            } while (nanos.getAsLong() - begun < mostNanos);
            return true;
        } catch (RuntimeException e) {
            pass = null;
            throw e;
        }
    }

    /** A partition in which a week has begun since its last snapshot, and something has come in. */
    private Optional<Partition> due(Instant now) {
        Manifest manifest = writer.manifest();
        long week = Snapshot.weekOf(now);
        return manifest.positions().entrySet().stream()
                .filter(entry -> entry.getKey().topic().equals(Topics.SITES) && !nothing.contains(entry.getKey()))
                .filter(entry -> newest(manifest, entry.getKey())
                        .map(last -> last.week() < week && last.next() < entry.getValue())
                        .orElseGet(() -> entry.getValue() > 0 && firstWeek(manifest) < week))
                .map(Map.Entry::getKey)
                .min(Comparator.comparing(Partition::partition));
    }

    private static Optional<Snapshot> newest(Manifest manifest, Partition partition) {
        String version = Start.version();
        return manifest.snapshots().stream()
                .filter(snapshot -> snapshot.partition().equals(partition)
                        && snapshot.version().equals(version))
                .max(Comparator.comparingLong(Snapshot::next));
    }

    /** Of the oldest record of any site's log. */
    private static long firstWeek(Manifest manifest) {
        return Stream.of(Table.PACKS, Table.RECORDS)
                .flatMap(manifest::of)
                .mapToLong(file -> Snapshot.weekOf(Instant.ofEpochMilli(file.fromMicros() / 1000)))
                .min()
                .orElse(Long.MAX_VALUE);
    }

    private @Nullable Pass begin(History history, Partition partition) {
        Optional<Stretch> found = Stretch.ofNewestLog(history).stream()
                .filter(each -> each.log().equals(partition.log()) && each.partition() == partition.partition())
                .findFirst();
        if (found.isEmpty()) {
            return null;
        }
        Stretch stretch = found.get();
        return Start.newest(history, stretch, any -> true)
                .map(last -> new Pass(
                        stretch,
                        last.from(),
                        Start.read(history.directory(), last, Start.LIVE),
                        last.week(),
                        last.arrived().toEpochMilli()))
                .orElseGet(() ->
                        new Pass(stretch, stretch.from(), new PartitionRun.Reached(stretch.from()), Long.MIN_VALUE, 0));
    }

    private void step(History history, Pass current, long thisWeek) {
        PartitionRun.Reached reached = current.reached;
        long end = Math.min(reached.next + chunk, current.stretch.to() + 1);
        history.duck().ask(current.stretch.sql(reached.next, end), row -> {
            long arrived = row.getLong(4);
            long week = Snapshot.weekOf(Instant.ofEpochMilli(arrived));
            if (week > current.week) {
                if (reached.taken > 0) {
                    write(current, week);
                }
                current.week = week;
            }
            reached.take(row, Start.LIVE);
            reached.taken++;
            reached.next = row.getLong(1) + 1;
            current.arrivedMillis = Math.max(current.arrivedMillis, arrived);
        });
        reached.next = end;
        if (reached.next > current.stretch.to()) {
            if (reached.taken > 0 && current.week < thisWeek) {
                write(current, thisWeek);
            }
            pass = null;
        }
    }

    private void write(Pass current, long week) {
        PartitionRun.Reached reached = current.reached;
        Optional<Instant> until = reached.sites.values().stream()
                .flatMap(site -> site.now().stream())
                .max(Comparator.naturalOrder());
        if (until.isEmpty()) {
            return;
        }
        reached.sites.values().forEach(SiteTrials::forget);
        // What counts is what has come in since the last one.
        reached.taken = 0;
        Partition partition = new Partition(Topics.SITES, current.stretch.log(), current.stretch.partition());
        Path file = writer.directory()
                .snapshots()
                .resolve("states-" + partition.partition() + "-" + reached.next + "-"
                        + Start.version().substring(0, 8) + ".state");
        long bytes = StateFile.write(file, Start.key(partition), reached::write);
        writer.add(new Snapshot(
                partition,
                current.from,
                reached.next,
                Instant.ofEpochMilli(current.arrivedMillis),
                until.get(),
                week,
                Start.version(),
                writer.directory().root().relativize(file).toString().replace('\\', '/'),
                bytes));
    }
}
