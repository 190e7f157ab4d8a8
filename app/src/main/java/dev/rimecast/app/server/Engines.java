package dev.rimecast.app.server;

import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.EngineException;
import dev.rimecast.engines.EngineFailure;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.engines.TopicSetup;
import dev.rimecast.engines.TopicSpec;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.function.Consumer;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.common.KafkaException;

/**
 * Kafka and the database, inside the process or outside it. Both start at the same time, since each takes seconds.
 *
 * @param kafka client settings
 * @param database empty where no stage of this process needs one
 */
record Engines(Map<String, String> kafka, Optional<DatabaseLogin> database) {
    private static final Duration TOPIC_TIMEOUT = Duration.ofSeconds(60);

    /** Without secrets. */
    @Override
    public String toString() {
        return "Engines[" + kafka.get("bootstrap.servers") + ", " + database + "]";
    }

    /** Starts what is to run inside, makes the topics, and leaves everything to {@code closing}. */
    static Engines start(
            ServerSettings settings, DataDirectory data, Closing closing, Consumer<EngineFailure> onFailure) {
        CompletableFuture<Optional<DatabaseLogin>> database =
                CompletableFuture.supplyAsync(() -> database(settings, data, closing));
        try {
            Map<String, String> kafka = kafka(settings, data, closing, onFailure);
            makeTopics(settings, kafka);
            return new Engines(kafka, database.join());
        } catch (EngineException e) {
            // Whatever the other one came to, it has to be there before everything is closed.
            database.handle((started, failure) -> started).join();
            throw new StartException(String.valueOf(e.getMessage()), e);
        } catch (CompletionException e) {
            Throwable cause = e.getCause() == null ? e : e.getCause();
            throw new StartException(String.valueOf(cause.getMessage()), cause);
        }
    }

    /** As {@link #start}, and leaves the topics as they are. */
    static Engines startAsTheyAre(
            ServerSettings settings, DataDirectory data, Closing closing, Consumer<EngineFailure> onFailure) {
        return new Engines(kafka(settings, data, closing, onFailure), database(settings, data, closing));
    }

    /** Only alerts have one. */
    private static Optional<DatabaseLogin> database(ServerSettings settings, DataDirectory data, Closing closing) {
        if (!settings.roles().contains(Role.ALERTS)) {
            return Optional.empty();
        }
        if (settings.database().isPresent()) {
            return settings.database();
        }
        EmbeddedPostgres postgres =
                closing.add("PostgreSQL", EmbeddedPostgres.start(data.resolve("postgres"), PostgresSettings.STANDARD));
        return Optional.of(new DatabaseLogin(
                postgres.jdbcUrl(),
                postgres.user(),
                postgres.password(),
                Optional.of(new DatabaseLogin.Owner(postgres.owner(), postgres.ownerPassword()))));
    }

    private static Map<String, String> kafka(
            ServerSettings settings, DataDirectory data, Closing closing, Consumer<EngineFailure> onFailure) {
        if (settings.kafka().isPresent()) {
            return new HashMap<>(settings.kafka().get());
        }
        EmbeddedKafka kafka =
                closing.add("Kafka", EmbeddedKafka.start(data.resolve("kafka"), KafkaSettings.standard(onFailure)));
        return kafka.client();
    }

    private static List<TopicSpec> ofContract(ServerSettings.TopicShape shape) {
        return TopicSpec.ofContract(shape.partitions(), shape.retention(), shape.retentionBytes());
    }

    private static List<TopicSpec> outside(ServerSettings.TopicShape shape) {
        return ofContract(shape).stream()
                .map(topic -> topic.withMinInSync(shape.minInSync()))
                .toList();
    }

    private static void makeTopics(ServerSettings settings, Map<String, String> kafka) {
        ServerSettings.TopicShape shape = settings.topics();
        short copies = settings.kafka().isPresent() ? shape.replication() : 1;
        try (Admin admin = Admin.create(new HashMap<String, Object>(kafka))) {
            TopicSetup.apply(
                    admin, settings.kafka().isPresent() ? outside(shape) : ofContract(shape), copies, TOPIC_TIMEOUT);
        } catch (EngineException | KafkaException e) {
            throw new EngineException(
                    OutsideTrouble.ofKafka(kafka, e).orElseGet(() -> String.valueOf(e.getMessage())), e);
        }
    }
}
