package dev.rimecast.analytics.stream;

import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;

/** What was put aside and committed. */
final class DeadLettersTopic {
    private DeadLettersTopic() {}

    static int count(String bootstrapServers) {
        try (KafkaConsumer<byte[], byte[]> consumer = new KafkaConsumer<>(
                Map.of("bootstrap.servers", bootstrapServers, "isolation.level", "read_committed"),
                new ByteArrayDeserializer(),
                new ByteArrayDeserializer())) {
            TopicPartition only = new TopicPartition(Topics.DEAD_LETTERS, 0);
            consumer.assign(List.of(only));
            consumer.seekToBeginning(List.of(only));
            int count = 0;
            while (consumer.position(only) < consumer.endOffsets(List.of(only)).getOrDefault(only, 0L)) {
                count += consumer.poll(Duration.ofMillis(200)).count();
            }
            return count;
        }
    }
}
