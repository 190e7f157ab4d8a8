package dev.rimecast.analytics.stream;

import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.StringDeserializer;

/** What a consumer of findings sees that reads committed. */
final class FindingsTopic implements AutoCloseable {
    private final KafkaConsumer<String, byte[]> consumer;
    private final List<Finding> seen = new ArrayList<>();

    FindingsTopic(String bootstrapServers) {
        consumer = new KafkaConsumer<>(
                Map.of("bootstrap.servers", bootstrapServers, "isolation.level", "read_committed"),
                new StringDeserializer(),
                new ByteArrayDeserializer());
        List<TopicPartition> all = consumer.partitionsFor(Topics.FINDINGS).stream()
                .map(info -> new TopicPartition(Topics.FINDINGS, info.partition()))
                .toList();
        consumer.assign(all);
        consumer.seekToBeginning(all);
    }

    /** How many findings have been committed so far. */
    int count() {
        for (ConsumerRecord<String, byte[]> found : consumer.poll(Duration.ofMillis(100))) {
            seen.add(FindingJson.decode(found.value()));
        }
        return seen.size();
    }

    /** One site's findings in the order of its partition. */
    List<Finding> of(String site) {
        return seen.stream().filter(finding -> finding.site().equals(site)).toList();
    }

    @Override
    public void close() {
        consumer.close();
    }
}
