package dev.rimecast.alerts;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.engines.TopicSpec;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutionException;
import java.util.stream.Stream;
import org.apache.kafka.clients.admin.Admin;
import org.awaitility.Awaitility;
import org.jdbi.v3.core.Jdbi;
import org.jspecify.annotations.Nullable;

/**
 * One broker and one database server for all tests of a process, which come to them one after the other: to start them
 * takes longer than most tests. Who takes one finds it as new.
 */
final class Servers {
    private static final Path DIRECTORY = temporary();
    private static @Nullable EmbeddedPostgres postgres;
    private static @Nullable EmbeddedKafka kafka;

    static {
        Runtime.getRuntime().addShutdownHook(new Thread(Servers::close, "end of the servers for tests"));
    }

    private Servers() {}

    static Path directory() {
        return DIRECTORY;
    }

    /** The server as it is. */
    static synchronized EmbeddedPostgres postgres() {
        EmbeddedPostgres running = postgres;
        if (running == null) {
            running = EmbeddedPostgres.start(DIRECTORY.resolve("postgres"), PostgresSettings.STANDARD);
            postgres = running;
        }
        return running;
    }

    /** The server with an empty database. */
    static EmbeddedPostgres emptyPostgres() {
        EmbeddedPostgres server = postgres();
        Jdbi.create(server.jdbcUrl(), server.owner(), server.ownerPassword())
                .useHandle(handle -> handle.execute("drop schema public cascade; create schema public"));
        return server;
    }

    static synchronized void stopPostgres() {
        if (postgres != null) {
            postgres.close();
            postgres = null;
        }
    }

    /** The broker with its topics, which are empty. */
    static synchronized EmbeddedKafka emptyKafka() {
        EmbeddedKafka running = kafka;
        if (running == null) {
            running = EmbeddedKafka.start(DIRECTORY.resolve("kafka"), KafkaSettings.standard(failure -> {}));
            kafka = running;
            running.createTopics(TopicSpec.oneMachine());
        } else {
            beginAnew(
                    running,
                    TopicSpec.oneMachine().stream().map(TopicSpec::name).toList());
        }
        return running;
    }

    /** Deletes topics and makes them anew. */
    static void beginAnew(EmbeddedKafka broker, List<String> topics) {
        try (Admin admin = Admin.create(broker.client(Map.of()))) {
            admin.deleteTopics(topics).all().get();
        } catch (ExecutionException e) {
            throw new IllegalStateException("topics can't be deleted", e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted", e);
        }
        Awaitility.await().ignoreExceptions().untilAsserted(() -> broker.createTopics(TopicSpec.oneMachine()));
    }

    private static Path temporary() {
        try {
            return Files.createTempDirectory("rimecast-servers");
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static synchronized void close() {
        stopPostgres();
        if (kafka != null) {
            kafka.close();
            kafka = null;
        }
        try (Stream<Path> files = Files.walk(DIRECTORY)) {
            for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
