package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.OffsetStore;
import dev.rimecast.alerts.store.OffsetStore.Position;
import java.time.Duration;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.consumer.Consumer;
import org.apache.kafka.common.KafkaException;
import org.apache.kafka.common.TopicPartition;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Where reading begins. The database's offset decides; Kafka's own are not used.
 *
 * <table>
 * <caption>Cases</caption>
 * <tr><td>no offset kept</td><td>the beginning</td></tr>
 * <tr><td>another topic id: the log was begun anew</td><td>the beginning</td></tr>
 * <tr><td>offset before the oldest record: retention was faster</td><td>the oldest record; said in the log</td></tr>
 * <tr><td>offset after the newest record: the log has lost its tail</td><td>the end; said in the log</td></tr>
 * </table>
 */
final class Placement {
    private static final Logger LOG = LoggerFactory.getLogger(Placement.class);
    private static final Duration TIMEOUT = Duration.ofSeconds(20);

    private final Database database;
    private final Admin admin;
    private final String topic;

    Placement(Database database, Admin admin, String topic) {
        this.database = database;
        this.admin = admin;
        this.topic = topic;
    }

    /** Sets the consumer's positions and takes the partitions over in the database. */
    Map<TopicPartition, Position> place(Consumer<?, ?> consumer, Collection<TopicPartition> partitions) {
        if (partitions.isEmpty()) {
            return Map.of();
        }
        String topicId = topicId();
        Map<TopicPartition, Long> oldest = consumer.beginningOffsets(partitions, TIMEOUT);
        Map<TopicPartition, Long> end = consumer.endOffsets(partitions, TIMEOUT);
        Map<TopicPartition, Position> positions = new HashMap<>();
        database.jdbi().useTransaction(handle -> {
            for (TopicPartition partition : partitions) {
                long next = OffsetStore.read(handle, topic, partition.partition())
                        .filter(kept -> isSameLog(partition, kept, topicId))
                        .map(kept -> within(partition, kept.next(), bound(oldest, partition), bound(end, partition)))
                        .orElse(bound(oldest, partition));
                Position position = new Position(topicId, next);
                OffsetStore.place(handle, topic, partition.partition(), position);
                positions.put(partition, position);
            }
        });
        positions.forEach((partition, position) -> consumer.seek(partition, position.next()));
        return positions;
    }

    private static boolean isSameLog(TopicPartition partition, Position kept, String topicId) {
        if (kept.topicId().equals(topicId)) {
            return true;
        }
        LOG.warn("{} was begun anew, it is read from its beginning", partition);
        return false;
    }

    private static long within(TopicPartition partition, long kept, long oldest, long end) {
        if (kept < oldest) {
            LOG.warn(
                    "{} no longer has offsets {} to {}: they were deleted before they were read",
                    partition,
                    kept,
                    oldest);
        } else if (kept > end) {
            LOG.warn("{} ends at {}, but {} was read before: it has lost its newest records", partition, end, kept);
        }
        return Math.max(oldest, Math.min(kept, end));
    }

    private static long bound(Map<TopicPartition, Long> bounds, TopicPartition partition) {
        Long bound = bounds.get(partition);
        if (bound == null) {
            throw new KafkaException("Kafka does not say where " + partition + " begins and ends");
        }
        return bound;
    }

    private String topicId() {
        try {
            return admin.describeTopics(List.of(topic))
                    .allTopicNames()
                    .get(TIMEOUT.toMillis(), TimeUnit.MILLISECONDS)
                    .values()
                    .iterator()
                    .next()
                    .topicId()
                    .toString();
        } catch (ExecutionException | TimeoutException e) {
            throw new KafkaException("Kafka does not describe topic " + topic + ": " + e.getMessage(), e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new KafkaException("interrupted", e);
        }
    }
}
