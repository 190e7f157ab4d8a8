package dev.rimecast.analytics.stream;

import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.PartitionInfo;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.StringDeserializer;

/**
 * Reads sites' logs back from Kafka, from the oldest record that is kept to the newest there is at the call.
 * What the stage puts aside as unreadable is left out here too.
 */
public final class SiteLogReader {
    private final Map<String, String> kafka;

    /**
     * @param kafka client settings, at least {@code bootstrap.servers}
     */
    public SiteLogReader(Map<String, String> kafka) {
        this.kafka = Map.copyOf(kafka);
    }

    /** One site's log as its monitor sees it: its own records, and the ticks of its partition once it has begun. */
    public List<SiteRecord> read(String site) {
        List<SiteRecord> log = new ArrayList<>();
        forEach(site, entry -> log.add(entry.entry()));
        return log;
    }

    /** As {@link #read}, one by one and with each record's place. */
    public void forEach(String site, Consumer<LogEntry> sink) {
        try (KafkaConsumer<String, byte[]> consumer = consumer()) {
            List<PartitionInfo> partitions = consumer.partitionsFor(Topics.SITES);
            int mine = SitePartitions.of(site, partitions.size());
            AtomicBoolean begun = new AtomicBoolean();
            readAll(consumer, List.of(new TopicPartition(Topics.SITES, mine)), entry -> {
                if (entry.site().equals(Optional.of(site))) {
                    begun.set(true);
                    sink.accept(entry);
                } else if (entry.site().isEmpty() && begun.get()) {
                    sink.accept(entry);
                }
            });
        }
    }

    /** Every record of every partition, in order within a partition. */
    public void forEach(Consumer<LogEntry> sink) {
        try (KafkaConsumer<String, byte[]> consumer = consumer()) {
            List<TopicPartition> all = consumer.partitionsFor(Topics.SITES).stream()
                    .map(info -> new TopicPartition(Topics.SITES, info.partition()))
                    .toList();
            readAll(consumer, all, sink);
        }
    }

    private KafkaConsumer<String, byte[]> consumer() {
        Map<String, Object> config = new HashMap<>(kafka);
        config.put(ConsumerConfig.ISOLATION_LEVEL_CONFIG, "read_committed");
        config.put(ConsumerConfig.ENABLE_AUTO_COMMIT_CONFIG, false);
        return new KafkaConsumer<>(config, new StringDeserializer(), new ByteArrayDeserializer());
    }

    private static void readAll(
            KafkaConsumer<String, byte[]> consumer, List<TopicPartition> partitions, Consumer<LogEntry> sink) {
        consumer.assign(partitions);
        consumer.seekToBeginning(partitions);
        Map<TopicPartition, Long> ends = consumer.endOffsets(partitions);
        while (partitions.stream().anyMatch(p -> consumer.position(p) < endOf(ends, p))) {
            for (ConsumerRecord<String, byte[]> found : consumer.poll(Duration.ofMillis(200))) {
                if (found.offset() < endOf(ends, new TopicPartition(found.topic(), found.partition()))) {
                    decode(found).ifPresent(sink);
                }
            }
        }
    }

    private static long endOf(Map<TopicPartition, Long> ends, TopicPartition partition) {
        return Objects.requireNonNull(ends.get(partition));
    }

    private static Optional<LogEntry> decode(ConsumerRecord<String, byte[]> found) {
        if (found.value() == null) {
            return Optional.empty();
        }
        try {
            return Optional.of(new LogEntry(
                    found.partition(),
                    found.offset(),
                    Instant.ofEpochMilli(found.timestamp()),
                    Optional.ofNullable(found.key()),
                    SiteLogCodec.decode(found.value())));
        } catch (IllegalArgumentException unreadable) {
            return Optional.empty();
        }
    }
}
