package dev.rimecast.history;

import dev.rimecast.history.backtest.SnapshotRun;
import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.AlteredDayException;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.feed.LogFeed;
import dev.rimecast.history.query.Views;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.HistoryWriter;
import dev.rimecast.history.table.Taken;
import io.micrometer.core.instrument.MeterRegistry;
import java.io.IOException;
import java.nio.file.Files;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.apache.kafka.common.errors.WakeupException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads the topics and writes the history, from one thread of its own. Kafka keeps what is not in a file yet; the manifest says
 * how far the files go, so a kill costs nothing but reading a few minutes again. The database is open only while it writes.
 *
 * <p>Conservation: see {@link HistoryWriter}.
 */
public final class HistoryStage implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(HistoryStage.class);

    /** What waits in memory at most before it becomes a file, whatever the time: records, and bytes of them. */
    private static final int MOST_RECORDS = 20_000;

    private static final long MOST_BYTES = 3_000_000;
    private static final Duration POLL = Duration.ofMillis(500);
    private static final Duration TIDY = Duration.ofMinutes(1);
    /** Each minute at most, so that reading goes on. */
    private static final long SNAPSHOT_NANOS = 3_000_000_000L;

    private static final Duration CLOSE_LIMIT = Duration.ofSeconds(8);
    private static final long[] PAUSES_SECONDS = {1, 5, 15, 60};

    private final HistorySettings settings;
    private final InstantSource clock;
    private final HistoryDirectory directory;
    private final HistoryMeter meter;
    private final CountDownLatch stop = new CountDownLatch(1);
    private final Thread thread;
    private volatile HistoryHealth health = new HistoryHealth(true, "starting");
    private volatile Runnable wakeup = () -> {};
    private int failures;
    /** Why the last attempt to tidy failed; empty where it did not. */
    private String untidy = "";

    /** What waits. */
    private static final class Waiting {
        private final List<Taken> records = new ArrayList<>();
        private long bytes;
        private long since;

        void add(List<Taken> more) {
            if (records.isEmpty() && !more.isEmpty()) {
                since = System.nanoTime();
            }
            records.addAll(more);
            more.forEach(record -> bytes += record.value().length);
        }

        boolean isEnough(Duration flush) {
            return !records.isEmpty()
                    && (records.size() >= MOST_RECORDS
                            || bytes >= MOST_BYTES
                            || System.nanoTime() - since >= flush.toNanos());
        }

        void clear() {
            records.clear();
            bytes = 0;
        }

        void tell(HistoryMeter meter) {
            meter.waiting(records.size(), since);
        }
    }

    private HistoryStage(HistorySettings settings, InstantSource clock, MeterRegistry registry) {
        this.settings = settings;
        this.clock = clock;
        this.directory = new HistoryDirectory(settings.directory());
        this.meter = new HistoryMeter(registry);
        this.thread = new Thread(this::work, "history");
    }

    /** Starts and returns at once. Kafka need not answer yet. */
    public static HistoryStage start(HistorySettings settings, InstantSource clock, MeterRegistry registry) {
        HistoryStage stage = new HistoryStage(settings, clock, registry);
        stage.thread.start();
        return stage;
    }

    /** How it is now. */
    public HistoryHealth health() {
        return health;
    }

    /** Whether its thread runs; one that has ended takes a restart of the process. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    private void work() {
        try {
            while (stop.getCount() > 0) {
                try {
                    writeUntilItFails();
                } catch (WakeupException e) {
                    LOG.debug("woken up to stop");
                } catch (RuntimeException e) {
                    failed(e);
                }
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        } catch (Error e) {
            // Also where the database has no program for this machine. Everything else goes on without a history.
            health = new HistoryHealth(false, "has ended: " + e);
            LOG.error("the history is no longer written", e);
        }
    }

    private void failed(RuntimeException e) throws InterruptedException {
        if (stop.getCount() > 0) {
            health = new HistoryHealth(false, String.valueOf(e.getMessage()));
            meter.failed();
            LOG.warn("writing the history failed, it begins again from its files: {}", e.toString());
            long pause = PAUSES_SECONDS[Math.min(failures++, PAUSES_SECONDS.length - 1)];
            stop.await(pause, TimeUnit.SECONDS);
        }
    }

    private void writeUntilItFails() throws InterruptedException {
        HistoryWriter writer = HistoryWriter.open(directory, limits(), new Views(directory)::script);
        SnapshotRun snapshots = new SnapshotRun(writer, System::nanoTime);
        Waiting waiting = new Waiting();
        try (LogFeed feed = new LogFeed(settings.kafka(), writer.manifest().positions())) {
            wakeup = feed::wakeup;
            meter.reading(feed::lagRecords);
            if (!feed.lost().isEmpty()) {
                writer.add(List.of(), feed.positions(), feed.lost());
            }
            well(writer);
            long tidied = System.nanoTime();
            while (stop.getCount() > 0) {
                waiting.add(poll(feed));
                waiting.tell(meter);
                if (waiting.isEnough(settings.flush())) {
                    awaitRoom(writer);
                    write(writer, feed, waiting);
                }
                if (System.nanoTime() - tidied >= TIDY.toNanos()) {
                    tidy(writer);
                    snapshot(snapshots);
                    tidied = System.nanoTime();
                    well(writer);
                }
            }
            if (!waiting.records.isEmpty() && hasRoom()) {
                write(writer, feed, waiting);
            }
        } catch (WakeupException e) {
            // What waits is read again at the next start.
            LOG.debug("stopped in a wait");
        } finally {
            wakeup = () -> {};
            meter.notReading();
            meter.waiting(0, 0);
        }
    }

    /** What is not as it was written keeps its day from being made anew, and nothing from being written. */
    private void tidy(HistoryWriter writer) {
        try {
            writer.tidy(settings.keep(), clock.instant(), false);
            untidy = "";
        } catch (AlteredDayException e) {
            meter.failed();
            untidy = String.valueOf(e.getMessage());
            LOG.warn("the history is written on, but not tidied: {}", untidy);
        }
    }

    /** The history goes on without: whoever asks goes through the log. */
    private void snapshot(SnapshotRun snapshots) {
        try {
            if (hasRoom()) {
                snapshots.advance(clock.instant(), SNAPSHOT_NANOS);
            }
        } catch (RuntimeException e) {
            LOG.warn("no snapshot of the monitors could be made: {}", e.toString());
        }
    }

    private List<Taken> poll(LogFeed feed) {
        try {
            return feed.poll(POLL);
        } catch (WakeupException e) {
            // Woken up to stop: what waits is written first.
            return List.of();
        }
    }

    private void write(HistoryWriter writer, LogFeed feed, Waiting waiting) {
        meter.wrote(waiting.records.size(), writer.add(waiting.records, feed.positions(), List.of()));
        waiting.clear();
        waiting.tell(meter);
        failures = 0;
        well(writer);
    }

    private void well(HistoryWriter writer) {
        long bytes = writer.manifest().bytes();
        meter.size(bytes + writer.manifest().supersededBytes());
        String size = String.format(Locale.ROOT, "%.1f MB", bytes / 1e6);
        health = untidy.isEmpty() ? new HistoryHealth(true, size) : new HistoryHealth(false, size + "; " + untidy);
    }

    private boolean hasRoom() {
        try {
            return Files.getFileStore(directory.root()).getUsableSpace() >= settings.keepFreeBytes();
        } catch (IOException e) {
            throw new HistoryException(
                    "the room on the disk of " + directory.root() + " can't be told: " + e.getMessage(), e);
        }
    }

    /** What is only for readers goes first. The log keeps what waits; nothing is read meanwhile. */
    private void awaitRoom(HistoryWriter writer) throws InterruptedException {
        writer.makeRoom(this::hasRoom);
        while (!hasRoom()) {
            health = new HistoryHealth(
                    false,
                    "waits for room on the disk of " + directory.root() + "; Kafka keeps what is not written yet");
            if (stop.await(5, TimeUnit.SECONDS)) {
                throw new WakeupException();
            }
        }
    }

    private Duck.Limits limits() {
        return new Duck.Limits(settings.memoryMegabytes(), 1, directory.spill());
    }

    /** Writes what waits and stops; what can't be written in time is read again at the next start. */
    @Override
    public void close() {
        stop.countDown();
        wakeup.run();
        try {
            thread.join(CLOSE_LIMIT.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
