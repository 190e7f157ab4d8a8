package dev.rimecast.app.backup;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.analytics.stream.StageSettings;
import dev.rimecast.app.logging.EngineLog;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.EngineException;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.engines.PrivateDirectory;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.TopicDescription;
import org.apache.kafka.clients.consumer.OffsetAndMetadata;
import org.apache.kafka.common.TopicPartition;

/** Makes a data directory of an archive. */
public final class Restore {
    /** What is not complete yet. */
    private static final String HALF = ".restoring";

    private final Path directory;

    private Restore(Path directory) {
        this.directory = directory;
    }

    /**
     * Reads all of the archive first, then makes everything in a directory of its own, and moves it to its place when it is
     * complete. That directory is beside a missing target, and inside one that is there, which may be a mount point.
     *
     * @param directory must be missing or empty
     * @return what was put back, in a line
     * @throws BackupException if the directory is not empty, another restore is at it, or the archive is torn, altered or of
     *     a later format
     */
    public static String of(Path file, Path directory) throws IOException {
        Path target = directory.toAbsolutePath().normalize();
        requireEmpty(target);
        boolean isThere = Files.exists(target);
        Path half = isThere ? target.resolve(HALF) : target.resolveSibling(target.getFileName() + HALF);
        if (Files.exists(half)) {
            throw new BackupException(half + " is there: another restore runs, or broke off. If none runs, delete it");
        }
        try (Archive archive = Archive.verified(file)) {
            PrivateDirectory.make(half);
            try {
                new Restore(half).fill(archive);
                if (isThere) {
                    moveUp(half, target);
                } else {
                    Files.move(half, target, StandardCopyOption.ATOMIC_MOVE);
                }
            } catch (SQLException e) {
                throw new BackupException("the database does not take the archive: " + e.getMessage(), e);
            } catch (EngineException e) {
                throw new BackupException(String.valueOf(e.getMessage()), e);
            } finally {
                deleteTree(half);
            }
            return "put back into " + target + ": " + archive.inWords();
        }
    }

    private static void moveUp(Path half, Path target) throws IOException {
        List<Path> parts;
        try (Stream<Path> all = Files.list(half)) {
            parts = all.toList();
        }
        for (Path part : parts) {
            Files.move(part, target.resolve(part.getFileName()), StandardCopyOption.ATOMIC_MOVE);
        }
    }

    /**
     * Reads all of an archive.
     *
     * @return what it is, in a line
     * @throws BackupException if it is torn, altered or of a later format
     */
    public static String check(Path file) throws IOException {
        try (Archive archive = Archive.verified(file)) {
            return archive.inWords();
        }
    }

    private static void requireEmpty(Path target) throws IOException {
        if (!Files.exists(target)) {
            return;
        }
        if (!Files.isDirectory(target)) {
            throw new BackupException(target + " is no directory");
        }
        try (Stream<Path> there = Files.list(target)) {
            Optional<Path> found = there.filter(path -> !path.endsWith(HALF)).findAny();
            if (found.isPresent()) {
                throw new BackupException(
                        target + " is not empty, it has " + found.get().getFileName()
                                + ": a backup is only put back into a directory with nothing in it");
            }
        }
    }

    private void fill(Archive archive) throws IOException, SQLException {
        EngineLog.toFile(directory.resolve("engines.log"));
        try (EmbeddedPostgres postgres =
                        EmbeddedPostgres.start(directory.resolve("postgres"), PostgresSettings.STANDARD);
                EmbeddedKafka kafka =
                        EmbeddedKafka.start(directory.resolve("kafka"), KafkaSettings.standard(failure -> {}))) {
            Database.migrate(
                    postgres.jdbcUrl(),
                    postgres.owner(),
                    postgres.ownerPassword(),
                    archive.manifest().schema());
            try (Connection connection = DriverManager.getConnection(
                            postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword());
                    Admin admin = Admin.create(kafka.client(Map.of()));
                    TopicRestore topics = new TopicRestore(archive, admin, kafka.client())) {
                DatabaseRestore database = new DatabaseRestore(connection, archive);
                database.fill();
                Renumbering numbers = topics.fill();
                place(database, admin, numbers);
                goOn(archive, admin, numbers);
            }
        }
    }

    /** The database goes on reading where it was. */
    private static void place(DatabaseRestore database, Admin admin, Renumbering numbers) throws SQLException {
        List<DatabaseRestore.Taken> all = database.taken();
        List<String> names =
                all.stream().map(DatabaseRestore.Taken::topic).distinct().toList();
        Map<String, TopicDescription> topics =
                Cut.await(admin.describeTopics(names).allTopicNames());
        for (DatabaseRestore.Taken taken : all) {
            TopicDescription topic = topics.get(taken.topic());
            if (topic == null) {
                throw new BackupException(
                        "the database reads topic " + taken.topic() + ", which is not in the archive");
            }
            TopicPartition partition = new TopicPartition(taken.topic(), taken.partition());
            database.move(taken, topic.topicId().toString(), numbers.of(partition, taken.next()));
        }
        database.commit();
    }

    /** Analytics does. */
    private static void goOn(Archive archive, Admin admin, Renumbering numbers) {
        Map<TopicPartition, OffsetAndMetadata> positions = new HashMap<>();
        for (Manifest.Position position : archive.manifest().positions()) {
            TopicPartition partition = new TopicPartition(position.topic(), position.partition());
            positions.put(
                    partition, new OffsetAndMetadata(numbers.of(partition, position.next()), position.metadata()));
        }
        if (!positions.isEmpty()) {
            Cut.await(admin.alterConsumerGroupOffsets(StageSettings.APPLICATION_ID, positions)
                    .all());
        }
    }

    private static void deleteTree(Path directory) throws IOException {
        if (!Files.exists(directory)) {
            return;
        }
        try (Stream<Path> all = Files.walk(directory)) {
            for (Path each : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.delete(each);
            }
        }
    }
}
