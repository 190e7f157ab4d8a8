package dev.rimecast.benchmarks.load;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.TopicSpec;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerConfig;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.serialization.ByteArraySerializer;

/** Kafka as the product runs it in its own process, in a directory that goes with it. */
final class Engine implements AutoCloseable {
    private final Path directory;
    private final EmbeddedKafka kafka;
    private boolean isKept;

    Engine(Path directory) {
        this.directory = directory;
        this.kafka = EmbeddedKafka.start(directory.resolve("kafka"), KafkaSettings.standard(failure -> {}));
        kafka.createTopics(TopicSpec.oneMachine());
    }

    Map<String, String> client() {
        return kafka.client();
    }

    Path directory() {
        return directory;
    }

    void createTopics(TopicSpec... topics) {
        kafka.createTopics(List.of(topics));
    }

    /** As ingest's own producer is set. */
    KafkaProducer<byte[], byte[]> producer() {
        Map<String, Object> config = new HashMap<>(kafka.client());
        config.put(ProducerConfig.ACKS_CONFIG, "all");
        config.put(ProducerConfig.COMPRESSION_TYPE_CONFIG, "lz4");
        config.put(ProducerConfig.LINGER_MS_CONFIG, 5);
        config.put(ProducerConfig.MAX_IN_FLIGHT_REQUESTS_PER_CONNECTION, 1);
        config.put(ProducerConfig.BUFFER_MEMORY_CONFIG, 96L << 20);
        return new KafkaProducer<>(config, new ByteArraySerializer(), new ByteArraySerializer());
    }

    /** Puts the machines of all clones into the register, as the API does. */
    void register(LearnedSite site, int clones) {
        try (KafkaProducer<byte[], byte[]> producer = producer()) {
            for (int clone = 0; clone < clones; clone++) {
                for (Machine machine : site.machines()) {
                    byte[] key = Clone.of(("machine/" + machine.id()).getBytes(StandardCharsets.UTF_8), clone);
                    byte[] row =
                            Clone.of(SiteLogCodec.encode(new SiteRecord.Registered(Instant.EPOCH, machine)), clone);
                    var unused = producer.send(new ProducerRecord<>(Topics.REGISTRY, key, row));
                }
            }
        }
    }

    /** Leaves the directory there when it is closed. */
    void keep() {
        isKept = true;
    }

    @Override
    public void close() {
        kafka.close();
        if (!isKept) {
            delete(directory);
        }
    }

    static void delete(Path directory) {
        try (Stream<Path> all = Files.walk(directory)) {
            for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(path);
            }
        } catch (IOException e) {
            System.err.println("could not be deleted: " + e.getMessage());
        }
    }
}
