package dev.rimecast.ingest.kafka;

import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;

/**
 * Looks through partitions of a topic up to where they end when it is asked: committed records only. For a person's question, a few
 * times a minute; not closed, it can be asked again for what came since.
 */
public final class TopicScan implements AutoCloseable {
    private static final Duration POLL = Duration.ofMillis(200);

    private final KafkaConsumer<byte[], byte[]> reader;
    private final List<TopicPartition> partitions;

    private TopicScan(KafkaConsumer<byte[], byte[]> reader, List<TopicPartition> partitions) {
        this.reader = reader;
        this.partitions = partitions;
        reader.assign(partitions);
    }

    /** The last records of each partition of a topic. */
    public static TopicScan ofLast(Map<String, String> kafka, String clientId, String topic, long most) {
        KafkaConsumer<byte[], byte[]> reader = new KafkaConsumer<>(ClientConfig.reader(kafka, clientId));
        try {
            List<TopicPartition> partitions = reader.partitionsFor(topic).stream()
                    .map(info -> new TopicPartition(info.topic(), info.partition()))
                    .toList();
            TopicScan scan = new TopicScan(reader, partitions);
            Map<TopicPartition, Long> begins = reader.beginningOffsets(partitions);
            reader.endOffsets(partitions)
                    .forEach((partition, end) ->
                            reader.seek(partition, Math.max(end - most, begins.getOrDefault(partition, 0L))));
            return scan;
        } catch (RuntimeException e) {
            reader.close();
            throw e;
        }
    }

    /** One partition from an offset on; nothing is found where the topic has no such partition, or no such offset any more. */
    static TopicScan from(Map<String, String> kafka, String clientId, TopicPartition partition, long offset) {
        KafkaConsumer<byte[], byte[]> reader = new KafkaConsumer<>(ClientConfig.reader(kafka, clientId));
        try {
            List<TopicPartition> one = List.of(partition);
            if (partition.partition() >= reader.partitionsFor(partition.topic()).size()
                    || offset < reader.beginningOffsets(one).getOrDefault(partition, 0L)
                    || offset >= reader.endOffsets(one).getOrDefault(partition, 0L)) {
                return new TopicScan(reader, List.of());
            }
            TopicScan scan = new TopicScan(reader, one);
            reader.seek(partition, offset);
            return scan;
        } catch (RuntimeException e) {
            reader.close();
            throw e;
        }
    }

    /**
     * Goes on to where the partitions end now.
     *
     * @return whether it came there in time
     * @throws org.apache.kafka.common.KafkaException if Kafka does not answer
     */
    public boolean toEnd(Duration patience, Consumer<ConsumerRecord<byte[], byte[]>> visitor) {
        Map<TopicPartition, Long> ends = new HashMap<>(reader.endOffsets(partitions));
        long deadline = System.nanoTime() + patience.toNanos();
        while (ends.entrySet().stream().anyMatch(end -> reader.position(end.getKey()) < end.getValue())) {
            if (System.nanoTime() > deadline) {
                return false;
            }
            reader.poll(POLL).forEach(visitor);
        }
        return true;
    }

    @Override
    public void close() {
        reader.close();
    }
}
