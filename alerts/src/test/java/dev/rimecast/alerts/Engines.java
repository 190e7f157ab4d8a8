package dev.rimecast.alerts;

import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Future;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.clients.producer.RecordMetadata;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.jdbi.v3.core.Jdbi;

/** Real engines for integration tests, which share them within a process, and the other stages' side of the topics. */
public final class Engines implements AutoCloseable {
    private final EmbeddedKafka kafka;
    private EmbeddedPostgres postgres;
    private final KafkaProducer<byte[], byte[]> producer;
    private final List<Future<RecordMetadata>> sends = new ArrayList<>();

    /** With topics and a database as new. */
    public Engines() {
        kafka = Servers.emptyKafka();
        postgres = Servers.emptyPostgres();
        producer = new KafkaProducer<>(
                kafka.client(Map.of("max.block.ms", 10_000)), new ByteArraySerializer(), new ByteArraySerializer());
    }

    public void stopPostgres() {
        Servers.stopPostgres();
    }

    public void restartPostgres() {
        postgres = Servers.postgres();
    }

    public AlertsSettings settings() {
        return new AlertsSettings(kafka.client(), login(), 6);
    }

    public AlertsStage startStage(InstantSource clock) {
        return AlertsStage.start(settings(), clock, new SimpleMeterRegistry());
    }

    public DatabaseLogin login() {
        return new DatabaseLogin(
                postgres.jdbcUrl(),
                postgres.user(),
                postgres.password(),
                Optional.of(new DatabaseLogin.Owner(postgres.owner(), postgres.ownerPassword())));
    }

    /** As the owner of the tables, who may do more than the stage. */
    public Jdbi jdbi() {
        return Jdbi.create(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword());
    }

    public void send(Finding finding) {
        send(Topics.FINDINGS, finding.site(), FindingJson.encode(finding));
    }

    public void send(String site, Cycle cycle) {
        send(Topics.CYCLES, site, CycleJson.encode(cycle));
    }

    public void send(String site, SiteRecord content) {
        send(Topics.SITES, site, SiteLogCodec.encode(content));
    }

    public void send(String topic, String key, byte[] value) {
        sends.add(producer.send(new ProducerRecord<>(topic, key.getBytes(StandardCharsets.UTF_8), value)));
    }

    public void send(String topic, String key, byte[] value, Map<String, String> headers) {
        var record = new ProducerRecord<>(topic, key.getBytes(StandardCharsets.UTF_8), value);
        headers.forEach((name, header) -> record.headers().add(name, header.getBytes(StandardCharsets.UTF_8)));
        sends.add(producer.send(record));
    }

    /** Waits until Kafka has everything. */
    public void flush() throws ExecutionException, InterruptedException {
        producer.flush();
        for (Future<RecordMetadata> send : sends) {
            send.get();
        }
        sends.clear();
    }

    /** Every record of a topic as it is now, by key, in order. */
    public Map<String, List<byte[]>> read(String topic) {
        Map<String, List<byte[]>> byKey = new HashMap<>();
        for (ConsumerRecord<byte[], byte[]> each : records(topic)) {
            byKey.computeIfAbsent(new String(each.key(), StandardCharsets.UTF_8), k -> new ArrayList<>())
                    .add(each.value() == null ? new byte[0] : each.value());
        }
        return byKey;
    }

    public List<SiteRecord> siteLog(String site) {
        return read(Topics.SITES).getOrDefault(site, List.of()).stream()
                .map(SiteLogCodec::decode)
                .toList();
    }

    public List<ConsumerRecord<byte[], byte[]>> records(String topic) {
        List<ConsumerRecord<byte[], byte[]>> records = new ArrayList<>();
        try (KafkaConsumer<byte[], byte[]> consumer =
                new KafkaConsumer<>(kafka.client(Map.of()), new ByteArrayDeserializer(), new ByteArrayDeserializer())) {
            List<TopicPartition> partitions = consumer.partitionsFor(topic).stream()
                    .map(p -> new TopicPartition(topic, p.partition()))
                    .toList();
            consumer.assign(partitions);
            consumer.seekToBeginning(partitions);
            Map<TopicPartition, Long> ends = consumer.endOffsets(partitions);
            while (partitions.stream().anyMatch(p -> consumer.position(p) < ends.getOrDefault(p, 0L))) {
                consumer.poll(Duration.ofMillis(100)).forEach(records::add);
            }
        }
        return records;
    }

    /** Whether the database has taken in everything that a topic holds. */
    public boolean isTakenIn(String topic) {
        Map<Integer, Long> next = new HashMap<>();
        jdbi().useHandle(handle -> handle.createQuery(
                        "select partition, next_offset from consumer_offset where topic = :topic")
                .bind("topic", topic)
                .map((row, context) -> Map.entry(row.getInt(1), row.getLong(2)))
                .forEach(entry -> next.put(entry.getKey(), entry.getValue())));
        try (KafkaConsumer<byte[], byte[]> consumer =
                new KafkaConsumer<>(kafka.client(Map.of()), new ByteArrayDeserializer(), new ByteArrayDeserializer())) {
            List<TopicPartition> partitions = consumer.partitionsFor(topic).stream()
                    .map(p -> new TopicPartition(topic, p.partition()))
                    .toList();
            return consumer.endOffsets(partitions).entrySet().stream()
                    .allMatch(end -> next.getOrDefault(end.getKey().partition(), -1L) >= end.getValue());
        }
    }

    /** Deletes a topic and makes it anew, as after the loss of Kafka's data. */
    public void beginAnew(String topic) {
        Servers.beginAnew(kafka, List.of(topic));
    }

    @Override
    public void close() {
        producer.close();
    }
}
