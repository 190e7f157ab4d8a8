package dev.rimecast.history.feed;

import dev.rimecast.history.store.StoredFile.Partition;
import dev.rimecast.history.store.StoredFile.Range;
import dev.rimecast.history.table.Shredder;
import dev.rimecast.history.table.Taken;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.TopicDescription;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.Metric;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Reads the topics from given positions on. It is in no group: it takes every partition itself, and Kafka keeps no offset of
 * its.
 */
public final class LogFeed implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(LogFeed.class);
    private static final Duration TIMEOUT = Duration.ofSeconds(20);
    /** Nobody waits for the history: the broker may gather for a moment, instead of being asked for every few records. */
    private static final int FETCH_AT_LEAST_BYTES = 128 << 10;

    private static final int FETCH_WAIT_MILLIS = 500;
    private static final String FETCH_BYTES = String.valueOf(1 << 20);

    private final KafkaConsumer<byte[], byte[]> consumer;
    private final Map<TopicPartition, Partition> partitions = new HashMap<>();
    private final Map<Partition, Long> positions = new HashMap<>();
    private final List<Range> lost = new ArrayList<>();

    /**
     * Finds every partition and its place.
     *
     * @param from next offsets; a partition that is not in it is read from its beginning
     * @throws KafkaException if Kafka does not answer, or its log ends before {@code from}
     */
    public LogFeed(Map<String, String> kafka, Map<Partition, Long> from) {
        Map<String, TopicDescription> topics = topics(kafka);
        Map<String, Object> config = new HashMap<>(kafka);
        config.put(ConsumerConfig.ISOLATION_LEVEL_CONFIG, "read_committed");
        config.put(ConsumerConfig.ENABLE_AUTO_COMMIT_CONFIG, false);
        config.put(ConsumerConfig.AUTO_OFFSET_RESET_CONFIG, "none");
        config.put(ConsumerConfig.FETCH_MAX_BYTES_CONFIG, FETCH_BYTES);
        config.put(ConsumerConfig.MAX_POLL_RECORDS_CONFIG, 2000);
        config.put(ConsumerConfig.FETCH_MIN_BYTES_CONFIG, FETCH_AT_LEAST_BYTES);
        config.put(ConsumerConfig.FETCH_MAX_WAIT_MS_CONFIG, FETCH_WAIT_MILLIS);
        consumer = new KafkaConsumer<>(config, new ByteArrayDeserializer(), new ByteArrayDeserializer());
        try {
            topics.forEach((topic, description) -> description
                    .partitions()
                    .forEach(each -> partitions.put(
                            new TopicPartition(topic, each.partition()),
                            new Partition(topic, description.topicId().toString(), each.partition()))));
            consumer.assign(partitions.keySet());
            place(from);
        } catch (RuntimeException e) {
            consumer.close();
            throw e;
        }
    }

    private static Map<String, TopicDescription> topics(Map<String, String> kafka) {
        try (Admin admin = Admin.create(new HashMap<String, Object>(kafka))) {
            return admin.describeTopics(Shredder.topics())
                    .allTopicNames()
                    .get(TIMEOUT.toMillis(), TimeUnit.MILLISECONDS);
        } catch (ExecutionException | TimeoutException e) {
            throw new KafkaException("Kafka does not describe the topics: " + e.getMessage(), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new KafkaException("interrupted", e);
        }
    }

    private void place(Map<Partition, Long> from) {
        Map<TopicPartition, Long> oldest = consumer.beginningOffsets(partitions.keySet(), TIMEOUT);
        Map<TopicPartition, Long> newest = consumer.endOffsets(partitions.keySet(), TIMEOUT);
        partitions.forEach((where, partition) -> {
            long first = Objects.requireNonNull(oldest.get(where));
            long end = Objects.requireNonNull(newest.get(where));
            long next = from.getOrDefault(partition, first);
            if (next > end) {
                throw new KafkaException(where + " ends at " + end + ", but the history has it up to " + next
                        + ": its log has lost records. Move the history's directory away, and it begins anew");
            }
            if (next < first) {
                LOG.warn("{} no longer has offsets {} to {}: the history will lack them", where, next, first);
                lost.add(new Range(partition, next, first));
                next = first;
            }
            consumer.seek(where, next);
            positions.put(partition, next);
        });
    }

    /** What was deleted before it was read. */
    public List<Range> lost() {
        return List.copyOf(lost);
    }

    /** Next offset of every partition. */
    public Map<Partition, Long> positions() {
        return Map.copyOf(positions);
    }

    /** What there is, in the order of each partition; waits a while if there is nothing. */
    public List<Taken> poll(Duration wait) {
        List<Taken> taken = new ArrayList<>();
        for (ConsumerRecord<byte[], byte[]> record : consumer.poll(wait)) {
            Partition partition =
                    Objects.requireNonNull(partitions.get(new TopicPartition(record.topic(), record.partition())));
            positions.put(partition, record.offset() + 1);
            taken.add(new Taken(
                    record.topic(),
                    partition.log(),
                    record.partition(),
                    record.offset(),
                    record.timestamp(),
                    record.key() == null ? "" : new String(record.key(), StandardCharsets.UTF_8),
                    record.value() == null ? new byte[0] : record.value()));
        }
        return taken;
    }

    /** Records before it, as its last fetch knew them; from any thread. */
    public double lagRecords() {
        double sum = 0;
        for (Metric metric : consumer.metrics().values()) {
            // the same name without a partition is another metric
            boolean isLag = metric.metricName().name().equals("records-lag")
                    && metric.metricName().tags().containsKey("partition");
            sum += isLag && metric.metricValue() instanceof Double lag && lag > 0 ? lag : 0;
        }
        return sum;
    }

    /** Ends a wait from another thread. */
    public void wakeup() {
        consumer.wakeup();
    }

    @Override
    public void close() {
        consumer.close(org.apache.kafka.clients.consumer.CloseOptions.timeout(Duration.ofSeconds(2)));
    }
}
