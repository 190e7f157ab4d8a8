package dev.rimecast.app.server;

import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.analytics.stream.AnalyticsStage;
import dev.rimecast.app.backup.Backup;
import dev.rimecast.app.backup.BackupException;
import dev.rimecast.app.logging.EngineLog;
import dev.rimecast.engines.EngineException;
import java.io.IOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.locks.ReentrantLock;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Backups of the data directory of one machine; one at a time. */
public final class Backups {
    private static final Logger LOG = LoggerFactory.getLogger(Backups.class);
    /** In the data directory while it is written and fetched; each has a name of its own. */
    private static final String SPOOL = "backup-unsent-";

    private final ServerSettings settings;
    private final Engines engines;
    private final Optional<AnalyticsStage> analytics;
    private final ReentrantLock one = new ReentrantLock();

    Backups(ServerSettings settings, Engines engines, Optional<AnalyticsStage> analytics) {
        this.settings = settings;
        this.engines = engines;
        this.analytics = analytics;
        if (analytics.isPresent()) {
            deleteSpooled(settings.data());
        }
    }

    /** Of a directory whose server is stopped. */
    public static long ofStopped(Path data, Path file) throws IOException {
        if (!Files.isDirectory(data.resolve("kafka")) || !Files.isDirectory(data.resolve("postgres"))) {
            throw new BackupException(
                    data + " is no data directory of Rimecast: it has no kafka and no postgres in it");
        }
        ServerSettings settings = new ServerSettings(
                data,
                Role.all(),
                new ServerSettings.Address("127.0.0.1", 0),
                new ServerSettings.Mqtt(new ServerSettings.Address("127.0.0.1", 0), 0),
                Optional.empty(),
                ServerSettings.TopicShape.ONE_MACHINE,
                Optional.empty(),
                ServerSettings.Files.NONE);
        try (Closing closing = new Closing()) {
            DataDirectory directory = closing.add("data directory", DataDirectory.open(data));
            EngineLog.toFile(directory.resolve("engines.log"));
            Engines engines = Engines.startAsTheyAre(settings, directory, closing, failure -> {});
            return new Backups(settings, engines, Optional.empty()).to(file);
        } catch (EngineException e) {
            throw new BackupException(String.valueOf(e.getMessage()), e);
        }
    }

    /** Writes it into the data directory; whoever fetches it deletes it. */
    Path spool() throws IOException {
        Path file = settings.data().toAbsolutePath().resolve(SPOOL + UUID.randomUUID());
        to(file);
        return file;
    }

    /** What a former process had not sent. */
    private static void deleteSpooled(Path data) {
        try (DirectoryStream<Path> left = Files.newDirectoryStream(data, SPOOL + "*")) {
            for (Path each : left) {
                Files.deleteIfExists(each);
            }
        } catch (IOException e) {
            LOG.warn("an unsent backup in {} can't be deleted: {}", data, e.toString());
        }
    }

    /**
     * Writes it.
     *
     * @param file that is not there yet
     * @return its size, bytes
     */
    long to(Path file) throws IOException {
        if (settings.kafka().isPresent() || settings.database().isPresent()) {
            throw new BackupException("backups are of one machine with Kafka and PostgreSQL of its own: here they are"
                    + " outside, so use their own means");
        }
        DatabaseLogin database = engines.database()
                .orElseThrow(() -> new BackupException("this process has no database: ask the one that runs alerts"));
        if (!one.tryLock()) {
            throw new BackupException("a backup is being made already: try again when it has ended");
        }
        try {
            long start = System.nanoTime();
            long bytes = new Backup(
                            engines.kafka(),
                            database.jdbcUrl(),
                            database.user(),
                            database.password(),
                            Version.text(),
                            this::rest)
                    .to(file, Instant.now());
            LOG.info("backup of {} bytes written in {} ms", bytes, (System.nanoTime() - start) / 1_000_000);
            return bytes;
        } finally {
            one.unlock();
        }
    }

    private Backup.Rest.Wake rest() {
        long start = System.nanoTime();
        AtomicBoolean isOver = new AtomicBoolean();
        analytics.ifPresent(AnalyticsStage::rest);
        return () -> {
            if (isOver.compareAndSet(false, true)) {
                analytics.ifPresent(AnalyticsStage::goOn);
                LOG.info("analytics rested {} ms for a backup", (System.nanoTime() - start) / 1_000_000);
            }
        };
    }
}
