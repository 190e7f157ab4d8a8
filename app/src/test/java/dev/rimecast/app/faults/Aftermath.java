package dev.rimecast.app.faults;

import dev.rimecast.alerts.AlertsSettings;
import dev.rimecast.alerts.AlertsStage;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.PostgresSettings;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.function.Function;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;

/** The data directory of a server that has ended, opened with the engines alone. */
public final class Aftermath implements AutoCloseable {
    private static final String STATES = "rimecast-analytics-monitors-changelog";

    private final EmbeddedKafka kafka;
    private final EmbeddedPostgres postgres;
    private final AlertsStage alerts;

    private Aftermath(EmbeddedKafka kafka, EmbeddedPostgres postgres) {
        this.kafka = kafka;
        this.postgres = postgres;
        this.alerts = AlertsStage.start(
                new AlertsSettings(
                        kafka(),
                        new DatabaseLogin(
                                postgres.jdbcUrl(),
                                postgres.user(),
                                postgres.password(),
                                Optional.of(new DatabaseLogin.Owner(postgres.owner(), postgres.ownerPassword()))),
                        6),
                InstantSource.system(),
                new SimpleMeterRegistry());
    }

    public static Aftermath of(Path data) {
        return new Aftermath(
                EmbeddedKafka.start(data.resolve("kafka"), KafkaSettings.standard(failure -> {})),
                EmbeddedPostgres.start(data.resolve("postgres"), PostgresSettings.STANDARD));
    }

    /** Settings of a client of its Kafka. */
    public Map<String, String> kafka() {
        return kafka.client();
    }

    public List<Finding> findings() {
        return values(kafka(), Topics.FINDINGS, FindingJson::decode);
    }

    /** Payloads of the rejects. */
    List<byte[]> rejects() {
        return values(kafka(), Topics.REJECTS, bytes -> bytes);
    }

    /** What analytics put aside. */
    List<byte[]> deadLetters() {
        return values(kafka(), Topics.DEAD_LETTERS, bytes -> bytes);
    }

    /** State of every site, by its parts, as the changelog of analytics has it last. */
    public Map<String, Map<String, byte[]>> states() {
        return states(kafka());
    }

    /** The same of a server that runs. */
    public static Map<String, Map<String, byte[]>> states(Map<String, String> client) {
        Map<String, Map<String, byte[]>> states = new TreeMap<>();
        forEach(client, STATES, entry -> {
            String[] key = new String(entry.key(), StandardCharsets.UTF_8).split("/", 2);
            Map<String, byte[]> parts = states.computeIfAbsent(key[0], site -> new TreeMap<>());
            byte[] bytes = entry.value();
            if (bytes == null) {
                parts.remove(key[1]);
            } else {
                parts.put(key[1], bytes);
            }
        });
        return states;
    }

    /** What the database answers, as text. */
    public List<List<String>> rows(String sql) throws SQLException {
        return TextRows.of(
                DriverManager.getConnection(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword()), sql);
    }

    public List<AlertView> alerts() {
        return alerts.views().alerts(AlertFilter.EVERY, 100_000);
    }

    /** Every committed value of a topic. */
    public static <T> List<T> values(Map<String, String> client, String topic, Function<byte[], T> decode) {
        List<T> values = new ArrayList<>();
        forEach(client, topic, entry -> values.add(decode.apply(entry.value())));
        return values;
    }

    private static void forEach(
            Map<String, String> client, String topic, Consumer<ConsumerRecord<byte[], byte[]>> sink) {
        Map<String, Object> settings = new HashMap<>(client);
        settings.put("isolation.level", "read_committed");
        settings.put("auto.offset.reset", "earliest");
        try (KafkaConsumer<byte[], byte[]> consumer =
                new KafkaConsumer<>(settings, new ByteArrayDeserializer(), new ByteArrayDeserializer())) {
            List<TopicPartition> partitions = consumer.partitionsFor(topic).stream()
                    .map(info -> new TopicPartition(topic, info.partition()))
                    .toList();
            consumer.assign(partitions);
            consumer.seekToBeginning(partitions);
            Map<TopicPartition, Long> ends = consumer.endOffsets(partitions);
            while (partitions.stream().anyMatch(p -> consumer.position(p) < ends.getOrDefault(p, 0L))) {
                consumer.poll(Duration.ofMillis(200)).forEach(sink);
            }
        }
    }

    @Override
    public void close() {
        alerts.close();
        kafka.close();
        postgres.close();
    }
}
