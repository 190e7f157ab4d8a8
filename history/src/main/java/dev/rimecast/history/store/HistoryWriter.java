package dev.rimecast.history.store;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.AlteredDayException;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.store.StoredFile.Range;
import dev.rimecast.history.table.Table;
import dev.rimecast.history.table.Taken;
import java.io.IOException;
import java.nio.file.Files;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BooleanSupplier;
import java.util.function.Function;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Writes the history, alone and from one thread. What it holds is what the manifest names: the files of a batch, and the
 * positions they reach, become part of it together, so that a kill at any moment neither loses nor repeats a record.
 *
 * <p>Conservation: records taken = rows of {@link Table#PACKS} and {@link Table#RECORDS} + rows of the other topics' tables +
 * unreadable.
 */
public final class HistoryWriter {
    private static final Logger LOG = LoggerFactory.getLogger(HistoryWriter.class);

    /** How long a record waits for its file at most, where nothing else is set. */
    public static final Duration FLUSH = Duration.ofMinutes(5);

    /** So many batches of one table become days. */
    static final int BATCHES = 24;

    private final HistoryDirectory directory;
    private final Duck.Limits limits;
    private final Function<Manifest, String> views;
    private final Batch batch;
    private final Compaction compaction;
    private Manifest manifest;
    private boolean isDue;

    private HistoryWriter(
            HistoryDirectory directory, Duck.Limits limits, Function<Manifest, String> views, Manifest manifest) {
        this.directory = directory;
        this.limits = limits;
        this.views = views;
        this.batch = new Batch(directory);
        this.compaction = new Compaction(directory);
        this.manifest = manifest;
    }

    /**
     * Goes on where the manifest says. A batch that is damaged is moved to {@code damaged} and read again from Kafka; a day
     * that is stays named, since nothing else has it, and whoever reads is told.
     *
     * @param views the text of {@value HistoryDirectory#VIEWS} for a manifest
     * @throws HistoryException if the directory can't be used
     */
    public static HistoryWriter open(HistoryDirectory directory, Duck.Limits limits, Function<Manifest, String> views) {
        try {
            directory.makeTables();
            Manifest manifest = directory.read();
            HistoryWriter writer = new HistoryWriter(directory, limits, views, manifest);
            writer.goBackOverDamage();
            directory.sweep(writer.manifest);
            return writer;
        } catch (IOException e) {
            throw new HistoryException(directory.root() + " can't be used: " + e.getMessage(), e);
        }
    }

    private void goBackOverDamage() throws IOException {
        List<StoredFile> damaged = directory.altered(
                manifest.files().stream().filter(StoredFile::isBatch).toList());
        if (damaged.isEmpty()) {
            return;
        }
        Map<Partition, Long> positions = new HashMap<>(manifest.positions());
        List<StoredFile> files = new ArrayList<>(manifest.files());
        for (StoredFile file : damaged) {
            LOG.warn("{} is cut off, altered or missing: what it is from is read again", directory.path(file));
            directory.setAside(file);
            files.remove(file);
            file.offsets().forEach(range -> positions.merge(range.partition(), range.from(), Math::min));
        }
        publish(manifest.next(positions, files, manifest.lost()));
        isDue = true;
    }

    public HistoryDirectory directory() {
        return directory;
    }

    public Manifest manifest() {
        return manifest;
    }

    /**
     * Makes the records part of the history.
     *
     * @param positions next offset of every partition that was read, with these records
     * @param lost what was deleted before it was read
     * @return records that nobody can read
     * @throws HistoryException if they can't be written; the history is as before then
     */
    public long add(List<Taken> records, Map<Partition, Long> positions, List<Range> lost) {
        Map<Partition, Long> reached = new HashMap<>(manifest.positions());
        reached.putAll(positions);
        List<Range> allLost = new ArrayList<>(manifest.lost());
        allLost.addAll(lost);
        try (Duck duck = Duck.open(limits)) {
            Batch.Written written = records.isEmpty()
                    ? new Batch.Written(List.of(), 0)
                    : batch.write(duck, manifest.generation() + 1, records);
            List<StoredFile> files = new ArrayList<>(manifest.files());
            files.addAll(written.files());
            publish(manifest.next(reached, files, allLost));
            return written.unreadable();
        } catch (IOException e) {
            throw new HistoryException("the history can't be written: " + e.getMessage(), e);
        }
    }

    /**
     * Makes a snapshot part of the history, and lets go of those that it makes old. Its file is there already.
     *
     * @throws HistoryException if it can't be written; the history is as before then
     */
    public void add(Snapshot snapshot) {
        try {
            List<Snapshot> gone = new ArrayList<>(manifest.snapshots());
            publish(manifest.with(snapshot));
            gone.removeAll(manifest.snapshots());
            // Whoever is about to read one goes through the log instead.
            for (Snapshot old : gone) {
                Files.deleteIfExists(old.in(directory));
            }
        } catch (IOException e) {
            throw new HistoryException("a snapshot can't be made part of the history: " + e.getMessage(), e);
        }
    }

    /**
     * Makes days of batches where there are many, and takes out what is too old or too much. The files stay for a while
     * ({@link Superseded}): a question to the past that was begun before reads them to its end.
     *
     * @param now by whose day age counts
     * @param isEnd whether few batches are enough
     * @throws AlteredDayException if a day's file is not as it was written: all else is tidied all the same
     * @throws HistoryException if a batch is not, which is read again by whoever opens the history anew
     */
    public void tidy(Keep keep, Instant now, boolean isEnd) {
        try {
            boolean isMuch = false;
            AlteredDayException altered = null;
            for (Table table : Table.values()) {
                int batches = manifest.batches(table).size();
                if (batches >= BATCHES || batches > 0 && (isDue || isEnd)) {
                    isMuch = true;
                    try {
                        compact(table, now);
                    } catch (AlteredDayException e) {
                        altered = e;
                    }
                }
            }
            isDue = false;
            List<StoredFile> staying = keep.staying(manifest, now);
            if (staying.size() < manifest.files().size()) {
                LOG.info(
                        "{} files of the history are too old or too much and go",
                        manifest.files().size() - staying.size());
                publish(manifest.with(staying, now));
                isMuch = true;
            }
            if (!isMuch) {
                delete(Superseded.due(manifest.superseded(), now, keep.bytes()));
            }
            if (altered != null) {
                throw altered;
            }
        } catch (IOException e) {
            throw new HistoryException("the history can't be tidied: " + e.getMessage(), e);
        }
    }

    /**
     * Deletes superseded files where the disk is full, the oldest first, whoever reads them.
     *
     * @param hasRoom asked before each
     */
    public void makeRoom(BooleanSupplier hasRoom) {
        try {
            List<Superseded> gone = new ArrayList<>();
            for (Superseded file : Superseded.oldestFirst(manifest.superseded())) {
                if (hasRoom.getAsBoolean()) {
                    break;
                }
                Files.deleteIfExists(directory.root().resolve(file.name()));
                gone.add(file);
            }
            if (!gone.isEmpty()) {
                LOG.info(
                        "{} files that are no part of the history any more are deleted: the disk is full", gone.size());
                delete(gone);
            }
        } catch (IOException e) {
            throw new HistoryException("no room can be made: " + e.getMessage(), e);
        }
    }

    private void delete(List<Superseded> gone) throws IOException {
        if (gone.isEmpty()) {
            return;
        }
        // What no manifest names is deleted at the next start, too.
        publish(manifest.without(gone));
        for (Superseded file : gone) {
            Files.deleteIfExists(directory.root().resolve(file.name()));
        }
    }

    private void compact(Table table, Instant now) throws IOException {
        directory.requireWhole(directory.damaged(manifest));
        try (Duck duck = Duck.open(limits)) {
            publish(manifest.with(compaction.compact(duck, manifest, table), now));
        }
    }

    private void publish(Manifest next) throws IOException {
        directory.publish(next, views.apply(next));
        manifest = next;
    }
}
