package dev.rimecast.simulator.gateway;

import dev.rimecast.telemetry.log.PackNumber;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Keeps packs in append-only files until they are covered. A directory belongs to one gateway; it holds segments of
 * about {@value #SEGMENT_BYTES} bytes, each named by the number of its first pack, and a segment is deleted when the
 * last of its packs is covered. The newest always stays, so that the count goes on after a restart, under the same boot.
 *
 * <p>What is written reaches the disk ({@code fsync}) in {@link #settle()}, which comes before anything of it is sent:
 * a number never comes twice with different content, not even after a power cut. A tail that a power cut has torn is cut
 * off at the next start; nothing of it had been sent. How far packs were covered is not written down: after a restart
 * at most one segment is sent again, and is told to be repeats.
 *
 * <p>Memory is a few numbers for each segment. When there are more bytes than allowed the oldest segment is given up, and
 * its packs are counted.
 */
public final class FileStore implements PackStore {
    static final int SEGMENT_BYTES = 256 * 1024;

    private static final Logger LOG = LoggerFactory.getLogger(FileStore.class);
    private static final String LOCK = "lock";

    private final Path directory;
    private final String boot;
    private final long mostBytes;
    private final FileChannel lock;
    /** Oldest first; the last one is written to. */
    private final Deque<Segment> segments = new ArrayDeque<>();

    private @Nullable SegmentReader reader;
    private long coveredUpTo;
    private long givenUp;

    private FileStore(Path directory, String boot, long mostBytes, FileChannel lock) {
        this.directory = directory;
        this.boot = boot;
        this.mostBytes = mostBytes;
        this.lock = lock;
    }

    /**
     * Opens the store of a directory, or begins one.
     *
     * @param newBoot the boot of a store that begins here; one that goes on has its own
     * @param mostBytes when there are more, the oldest are given up
     * @throws IllegalStateException if another gateway has it open
     * @throws UncheckedIOException if it can't be read or written
     */
    public static FileStore open(Path directory, String newBoot, long mostBytes) {
        try {
            Files.createDirectories(directory);
            FileChannel lock = lock(directory);
            List<Segment> found = new ArrayList<>();
            for (Path file : segmentFiles(directory)) {
                Segment.open(file).ifPresent(found::add);
            }
            String boot =
                    found.isEmpty() ? newBoot : found.get(found.size() - 1).boot();
            FileStore store = new FileStore(directory, boot, mostBytes, lock);
            // A directory with two counts was put together by hand; the older one can't be acknowledged any more.
            found.stream().filter(segment -> segment.boot().equals(boot)).forEach(store.segments::add);
            if (store.segments.isEmpty()) {
                store.segments.add(Segment.begin(directory, boot, 1));
            } else {
                store.segments.getLast().cutTornTail();
            }
            store.coveredUpTo = store.segments.getFirst().first() - 1;
            return store;
        } catch (IOException e) {
            throw new UncheckedIOException("the store in " + directory + " can't be opened", e);
        }
    }

    private static FileChannel lock(Path directory) throws IOException {
        FileChannel channel =
                FileChannel.open(directory.resolve(LOCK), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        try {
            if (channel.tryLock() != null) {
                return channel;
            }
        } catch (OverlappingFileLockException ours) {
            LOG.debug("the store is open in this process", ours);
        }
        channel.close();
        throw new IllegalStateException("the store in " + directory + " is open elsewhere");
    }

    private static List<Path> segmentFiles(Path directory) throws IOException {
        try (Stream<Path> files = Files.list(directory)) {
            return files.filter(Segment::isOne).sorted().toList();
        }
    }

    @Override
    public String boot() {
        return boot;
    }

    @Override
    public long add(byte[] payload) {
        try {
            Segment newest = segments.getLast();
            if (newest.bytes() >= SEGMENT_BYTES) {
                newest.settle();
                newest.endWriting();
                newest = Segment.begin(directory, boot, newest.last() + 1);
                segments.addLast(newest);
                giveUpTooOld();
            }
            return newest.append(payload);
        } catch (IOException e) {
            throw new UncheckedIOException("a pack can't be kept in " + directory, e);
        }
    }

    private void giveUpTooOld() throws IOException {
        while (segments.size() > 1 && bytes() > mostBytes) {
            Segment oldest = segments.removeFirst();
            long lost = oldest.last() - Math.max(coveredUpTo, oldest.first() - 1);
            givenUp += lost;
            LOG.warn("{}: the store is full, {} packs that nobody has acknowledged are given up", directory, lost);
            oldest.delete();
        }
    }

    @Override
    public void settle() {
        try {
            segments.getLast().settle();
        } catch (IOException e) {
            throw new UncheckedIOException("the store in " + directory + " can't be written", e);
        }
    }

    @Override
    public Optional<Numbered> after(long seq) {
        try {
            SegmentReader at = reader;
            if (at == null || at.lastRead() != seq || !segments.contains(at.segment())) {
                at = readFrom(segmentAfter(seq), seq);
            }
            while (true) {
                Optional<Numbered> next = at.next();
                if (next.isPresent() || at.segment() == segments.getLast()) {
                    return next;
                }
                // To the end of this one, or to where it is damaged.
                at = readFrom(segmentAfter(at.segment().last()), at.segment().last());
            }
        } catch (IOException e) {
            throw new UncheckedIOException("the store in " + directory + " can't be read", e);
        }
    }

    private Segment segmentAfter(long seq) {
        for (Segment segment : segments) {
            if (segment.last() > seq) {
                return segment;
            }
        }
        return segments.getLast();
    }

    private SegmentReader readFrom(Segment segment, long after) throws IOException {
        closeReader();
        SegmentReader opened = SegmentReader.open(segment, after);
        reader = opened;
        return opened;
    }

    private void closeReader() throws IOException {
        if (reader != null) {
            reader.close();
            reader = null;
        }
    }

    @Override
    public void receipt(long seq) {
        // Means that the next on the way has it, who may lose it.
    }

    @Override
    public void covered(PackNumber upTo) {
        if (!upTo.boot().equals(boot)) {
            return;
        }
        coveredUpTo = Math.max(coveredUpTo, Math.min(upTo.seq(), lastSeq()));
        try {
            while (segments.size() > 1 && segments.getFirst().last() <= coveredUpTo) {
                segments.removeFirst().delete();
            }
        } catch (IOException e) {
            throw new UncheckedIOException("the store in " + directory + " can't delete", e);
        }
    }

    @Override
    public boolean waitsForCover() {
        return true;
    }

    /** Packs that nobody has said to be stored; after a restart some that were. */
    @Override
    public int size() {
        return (int) Math.min(
                Integer.MAX_VALUE,
                lastSeq() - Math.max(coveredUpTo, segments.getFirst().first() - 1));
    }

    @Override
    public long lastSeq() {
        return segments.getLast().last();
    }

    /** Packs that were deleted without being covered, since the store was opened. */
    public long givenUp() {
        return givenUp;
    }

    /** Of all segments. */
    public long bytes() {
        return segments.stream().mapToLong(Segment::bytes).sum();
    }

    @Override
    public void close() {
        try {
            closeReader();
            segments.getLast().settle();
            segments.getLast().endWriting();
            lock.close();
        } catch (IOException e) {
            throw new UncheckedIOException("the store in " + directory + " can't be closed", e);
        }
    }
}
