package dev.rimecast.analytics.stream;

import dev.rimecast.engines.EmbeddedKafka;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.StringDeserializer;

/** What a consumer of a topic sees that reads committed. */
final class CommittedTopic<T> implements AutoCloseable {
    private record Entry<T>(String key, T value) {}

    private final KafkaConsumer<String, byte[]> consumer;
    private final Function<byte[], T> decoder;
    private final List<TopicPartition> partitions;
    private final List<Entry<T>> seen = new ArrayList<>();

    CommittedTopic(EmbeddedKafka kafka, String topic, Function<byte[], T> decoder) {
        this.decoder = decoder;
        consumer = new KafkaConsumer<>(
                kafka.client(Map.of("isolation.level", "read_committed")),
                new StringDeserializer(),
                new ByteArrayDeserializer());
        partitions = consumer.partitionsFor(topic).stream()
                .map(info -> new TopicPartition(topic, info.partition()))
                .toList();
        consumer.assign(partitions);
        consumer.seekToBeginning(partitions);
    }

    /** How many values have been committed, as far as they have been read. */
    int count() {
        for (ConsumerRecord<String, byte[]> found : consumer.poll(Duration.ofMillis(100))) {
            seen.add(new Entry<>(found.key(), decoder.apply(found.value())));
        }
        return seen.size();
    }

    /** How many there are, once all that is committed now has been read. */
    int countAll() {
        Map<TopicPartition, Long> ends = consumer.endOffsets(partitions);
        while (partitions.stream().anyMatch(p -> consumer.position(p) < ends.getOrDefault(p, 0L))) {
            count();
        }
        return seen.size();
    }

    /** The values of one key in the order of its partition. */
    List<T> of(String key) {
        return seen.stream()
                .filter(entry -> entry.key().equals(key))
                .map(Entry::value)
                .toList();
    }

    @Override
    public void close() {
        consumer.close();
    }
}
