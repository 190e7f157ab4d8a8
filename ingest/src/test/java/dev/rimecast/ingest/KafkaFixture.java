package dev.rimecast.ingest;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.TopicSpec;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.gateway.GatewayKeysJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.ByteArraySerializer;

/** A real Kafka with the contract's topics, that can be stopped and started; and what is in it. */
final class KafkaFixture implements AutoCloseable {
    private static final Set<String> MINE = Set.of(
            Topics.SITES,
            Topics.REJECTS,
            Topics.UNCLAIMED,
            Topics.REGISTRY,
            Topics.CREDENTIALS,
            Topics.ACKS,
            Topics.DEAD_LETTERS);

    private final Path directory;
    private EmbeddedKafka kafka;
    private final Map<String, String> client;

    KafkaFixture(Path directory) {
        this.directory = directory;
        this.kafka = open();
        this.client = kafka.client();
        kafka.createTopics(TopicSpec.ofContract(3, Duration.ofDays(36_500), 1L << 30).stream()
                .filter(topic -> MINE.contains(topic.name()))
                .toList());
    }

    private EmbeddedKafka open() {
        return EmbeddedKafka.start(directory, KafkaSettings.standard(failure -> {}));
    }

    Map<String, String> client() {
        return client;
    }

    void stop() {
        kafka.close();
    }

    void startAgain() {
        kafka = open();
    }

    /** Writes records as they are, and returns when they are stored. */
    void write(List<ProducerRecord<byte[], byte[]>> records) throws Exception {
        try (var producer = new KafkaProducer<byte[], byte[]>(
                kafka.client(Map.of()), new ByteArraySerializer(), new ByteArraySerializer())) {
            for (ProducerRecord<byte[], byte[]> each : records) {
                producer.send(each).get();
            }
        }
    }

    /** Puts machines into the register, as the API will. */
    void register(Machine... machines) throws Exception {
        try (var producer = new KafkaProducer<byte[], byte[]>(
                kafka.client(Map.of()), new ByteArraySerializer(), new ByteArraySerializer())) {
            for (Machine machine : machines) {
                producer.send(new ProducerRecord<>(
                                Topics.REGISTRY,
                                ("machine/" + machine.id()).getBytes(StandardCharsets.UTF_8),
                                SiteLogCodec.encode(new SiteRecord.Registered(Instant.EPOCH, machine))))
                        .get();
            }
        }
    }

    /** Puts the keys of a gateway in force, as the API does. */
    void keys(String gateway, GatewayKey... keys) throws Exception {
        try (var producer = new KafkaProducer<byte[], byte[]>(
                kafka.client(Map.of()), new ByteArraySerializer(), new ByteArraySerializer())) {
            producer.send(new ProducerRecord<>(
                            Topics.CREDENTIALS,
                            gateway.getBytes(StandardCharsets.UTF_8),
                            GatewayKeysJson.encode(List.of(keys))))
                    .get();
        }
    }

    /** Says how far a gateway's packs are stored, as analytics does. */
    void acknowledge(String site, GatewayAck ack) throws Exception {
        try (var producer = new KafkaProducer<byte[], byte[]>(
                kafka.client(Map.of()), new ByteArraySerializer(), new ByteArraySerializer())) {
            producer.send(new ProducerRecord<>(
                            Topics.ACKS, site.getBytes(StandardCharsets.UTF_8), GatewayAckJson.encode(ack)))
                    .get();
        }
    }

    /** Everything in a topic now, partition after partition. */
    List<ConsumerRecord<byte[], byte[]>> read(String topic) {
        try (var reader = new KafkaConsumer<byte[], byte[]>(
                kafka.client(Map.of("isolation.level", "read_committed")),
                new ByteArrayDeserializer(),
                new ByteArrayDeserializer())) {
            List<TopicPartition> partitions = reader.partitionsFor(topic).stream()
                    .map(info -> new TopicPartition(topic, info.partition()))
                    .toList();
            reader.assign(partitions);
            reader.seekToBeginning(partitions);
            Map<TopicPartition, Long> ends = reader.endOffsets(partitions);
            List<ConsumerRecord<byte[], byte[]>> all = new ArrayList<>();
            while (partitions.stream().anyMatch(p -> reader.position(p) < ends.getOrDefault(p, 0L))) {
                reader.poll(Duration.ofMillis(200)).forEach(all::add);
            }
            return all;
        }
    }

    /** Entries of the sites' logs of one kind, in order within each site. */
    <T extends SiteRecord> List<T> siteLog(Class<T> kind) {
        return read(Topics.SITES).stream()
                .map(r -> SiteLogCodec.decode(r.value()))
                .filter(kind::isInstance)
                .map(kind::cast)
                .toList();
    }

    @Override
    public void close() {
        kafka.close();
    }
}
