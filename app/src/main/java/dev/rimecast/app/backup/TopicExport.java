package dev.rimecast.app.backup;

import java.io.BufferedOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;

/** Reads what is committed of a topic, from its beginning to where a cut has it end. */
final class TopicExport implements AutoCloseable {
    private static final Duration POLL = Duration.ofMillis(200);
    private static final Duration STANDSTILL = Duration.ofSeconds(60);

    private final KafkaConsumer<byte[], byte[]> consumer;

    TopicExport(Map<String, String> kafka) {
        Map<String, Object> config = new HashMap<>(kafka);
        config.put("client.id", "rimecast-backup");
        config.put("isolation.level", "read_committed");
        config.put("enable.auto.commit", false);
        // Retention may take the oldest away while they are read.
        config.put("auto.offset.reset", "earliest");
        consumer = new KafkaConsumer<>(config, new ByteArrayDeserializer(), new ByteArrayDeserializer());
    }

    void write(ArchiveWriter archive, Manifest.Topic topic, Cut cut) throws IOException {
        for (int i = 0; i < topic.partitions(); i++) {
            TopicPartition partition = new TopicPartition(topic.name(), i);
            long end = cut.ends().getOrDefault(partition, 0L);
            archive.entry(topic.entry(i), out -> write(out, partition, end));
        }
    }

    private void write(OutputStream to, TopicPartition partition, long end) throws IOException {
        if (end == 0) {
            return;
        }
        DataOutputStream out = new DataOutputStream(new BufferedOutputStream(to, 1 << 16));
        consumer.assign(List.of(partition));
        consumer.seekToBeginning(List.of(partition));
        long position = consumer.position(partition);
        long movedAt = System.nanoTime();
        while (position < end) {
            for (ConsumerRecord<byte[], byte[]> found : consumer.poll(POLL)) {
                if (found.offset() < end) {
                    RecordCodec.write(out, found);
                }
            }
            long next = consumer.position(partition);
            if (next > position) {
                movedAt = System.nanoTime();
                position = next;
            } else if (System.nanoTime() - movedAt > STANDSTILL.toNanos()) {
                throw new BackupException(partition + " can't be read beyond " + position + " of " + end);
            }
        }
        out.flush();
    }

    @Override
    public void close() {
        consumer.close();
    }
}
