package dev.rimecast.app.backup;

import dev.rimecast.ingest.kafka.MarkedOffsets;
import java.io.BufferedInputStream;
import java.io.DataInputStream;
import java.io.IOException;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.atomic.AtomicReference;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.AlterConfigOp;
import org.apache.kafka.clients.admin.ConfigEntry;
import org.apache.kafka.clients.admin.NewTopic;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.IsolationLevel;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.config.ConfigResource;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.jspecify.annotations.Nullable;

/** Writes an archive's topics into a Kafka that has none of them; records keep their order and their time stamps. */
final class TopicRestore implements AutoCloseable {
    private static final String TIMESTAMPS = "message.timestamp.type";
    private static final String RETENTION = "retention.ms";

    private final Archive archive;
    private final Admin admin;
    private final KafkaProducer<byte[], byte[]> producer;
    private final Renumbering numbers = new Renumbering();
    private final AtomicReference<@Nullable Exception> failure = new AtomicReference<>();

    TopicRestore(Archive archive, Admin admin, Map<String, String> kafka) {
        this.archive = archive;
        this.admin = admin;
        Map<String, Object> config = new HashMap<>(kafka);
        config.put("client.id", "rimecast-restore");
        config.put("acks", "all");
        config.put("enable.idempotence", true);
        // A batch that is refused is sent again before the next one: their order is what matters most.
        config.put("max.in.flight.requests.per.connection", 1);
        config.put("compression.type", "lz4");
        config.put("linger.ms", 20);
        config.put("batch.size", 1 << 18);
        config.put("max.request.size", 8 << 20);
        producer = new KafkaProducer<>(config, new ByteArraySerializer(), new ByteArraySerializer());
    }

    Renumbering fill() throws IOException {
        List<Manifest.Topic> topics = archive.manifest().topics();
        Cut.await(
                admin.createTopics(topics.stream().map(TopicRestore::meanwhile).toList())
                        .all());
        // A new partition takes nothing before its broker knows that it leads it: then it tells its end, too.
        Cut.ends(admin, topics, IsolationLevel.READ_UNCOMMITTED);
        for (Manifest.Topic topic : topics) {
            for (int i = 0; i < topic.partitions(); i++) {
                fill(topic, i);
            }
            producer.flush();
            Exception problem = failure.get();
            if (problem != null) {
                throw new BackupException(
                        "topic " + topic.name() + " can't be filled: " + problem.getMessage(), problem);
            }
            settle(topic);
        }
        return numbers;
    }

    /** Time stamps are those of the archive, and nothing goes because it is old before all is there. */
    private static NewTopic meanwhile(Manifest.Topic topic) {
        Map<String, String> config = new TreeMap<>(topic.config());
        config.put(TIMESTAMPS, "CreateTime");
        config.put(RETENTION, "-1");
        return new NewTopic(topic.name(), topic.partitions(), (short) 1).configs(config);
    }

    private void fill(Manifest.Topic topic, int number) throws IOException {
        TopicPartition partition = new TopicPartition(topic.name(), number);
        try (DataInputStream in =
                new DataInputStream(new BufferedInputStream(archive.open(topic.entry(number)), 1 << 16))) {
            for (Optional<RecordCodec.Stored> next = RecordCodec.read(in);
                    next.isPresent();
                    next = RecordCodec.read(in)) {
                RecordCodec.Stored stored = next.get();
                MarkedOffsets.move(topic.name(), stored.headers(), offset -> numbers.of(partition, offset));
                numbers.add(partition, stored.offset());
                var unused = producer.send(
                        new ProducerRecord<>(
                                topic.name(),
                                number,
                                stored.timestamp(),
                                stored.key(),
                                stored.value(),
                                stored.headers()),
                        (written, problem) -> {
                            if (problem != null) {
                                failure.compareAndSet(null, problem);
                            }
                        });
            }
        }
    }

    /** The settings that it had. */
    private void settle(Manifest.Topic topic) {
        Map<ConfigResource, Collection<AlterConfigOp>> changes = new HashMap<>();
        changes.put(
                new ConfigResource(ConfigResource.Type.TOPIC, topic.name()),
                List.of(setting(topic, TIMESTAMPS), setting(topic, RETENTION)));
        Cut.await(admin.incrementalAlterConfigs(changes).all());
    }

    private static AlterConfigOp setting(Manifest.Topic topic, String name) {
        String value = topic.config().get(name);
        return value == null
                ? new AlterConfigOp(new ConfigEntry(name, ""), AlterConfigOp.OpType.DELETE)
                : new AlterConfigOp(new ConfigEntry(name, value), AlterConfigOp.OpType.SET);
    }

    @Override
    public void close() {
        producer.close();
    }
}
