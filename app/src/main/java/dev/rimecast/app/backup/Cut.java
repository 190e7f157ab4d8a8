package dev.rimecast.app.backup;

import dev.rimecast.analytics.stream.StageSettings;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.ConfigEntry;
import org.apache.kafka.clients.admin.ListConsumerGroupOffsetsOptions;
import org.apache.kafka.clients.admin.ListOffsetsOptions;
import org.apache.kafka.clients.admin.ListOffsetsResult.ListOffsetsResultInfo;
import org.apache.kafka.clients.admin.OffsetSpec;
import org.apache.kafka.clients.admin.TopicDescription;
import org.apache.kafka.clients.consumer.OffsetAndMetadata;
import org.apache.kafka.common.IsolationLevel;
import org.apache.kafka.common.KafkaFuture;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.config.ConfigResource;
import org.apache.kafka.common.errors.UnstableOffsetCommitException;

/**
 * A point in Kafka's logs at which everything agrees: what analytics has read is what its state and its findings come of. It
 * is found while analytics rests: two looks show the same positions and ends, and no transaction open between them.
 *
 * @param topics with settings that differ from Kafka's own
 * @param ends where each partition ends, by what is committed
 * @param positions how far analytics has read
 */
record Cut(
        List<Manifest.Topic> topics, Map<TopicPartition, Long> ends, Map<TopicPartition, OffsetAndMetadata> positions) {
    private static final Duration ANSWER = Duration.ofSeconds(20);
    /** Longer than Kafka lets a transaction of a process that is gone stay open. */
    private static final Duration REST = Duration.ofSeconds(90);

    private static final long BETWEEN_LOOKS_MILLIS = 300;
    /** What others than analytics write goes on meanwhile; it is behind the cut. */
    private static final Set<String> NOT_OF_ANALYTICS = Set.of(
            Topics.SITES,
            Topics.REJECTS,
            Topics.UNCLAIMED,
            Topics.REGISTRY,
            Topics.CREDENTIALS,
            Topics.POLICIES,
            Topics.ALERTS);

    /** Whether a topic's older records give way to newer ones at any moment. */
    static boolean isCompacted(Manifest.Topic topic) {
        return topic.config().getOrDefault("cleanup.policy", "delete").contains("compact");
    }

    /**
     * Waits until everything agrees.
     *
     * @throws BackupException if it does not within a minute and a half
     */
    static Cut find(Admin admin) {
        List<Manifest.Topic> topics = topics(admin);
        long deadline = System.nanoTime() + REST.toNanos();
        Cut before = look(admin, topics);
        while (true) {
            pause();
            Cut now = look(admin, topics);
            if (now.isAtRest(admin) && now.ofAnalytics().equals(before.ofAnalytics())) {
                return now;
            }
            if (System.nanoTime() > deadline) {
                throw new BackupException("analytics did not come to rest within " + REST.toSeconds()
                        + " s: look at its health, and try again");
            }
            before = now;
        }
    }

    private static Cut look(Admin admin, List<Manifest.Topic> topics) {
        Map<TopicPartition, OffsetAndMetadata> positions = positions(admin);
        return new Cut(topics, ends(admin, topics, IsolationLevel.READ_COMMITTED), positions);
    }

    private Map<Object, Object> ofAnalytics() {
        Map<Object, Object> state = new HashMap<>(positions);
        ends.forEach((partition, end) -> {
            if (!NOT_OF_ANALYTICS.contains(partition.topic())) {
                state.put("end of " + partition, end);
            }
        });
        return state;
    }

    /** Nothing that analytics writes has an open end. */
    private boolean isAtRest(Admin admin) {
        Map<TopicPartition, Long> written = ends(admin, topics, IsolationLevel.READ_UNCOMMITTED);
        return ends.entrySet().stream()
                .filter(end -> !NOT_OF_ANALYTICS.contains(end.getKey().topic()))
                .allMatch(end -> end.getValue().equals(written.get(end.getKey())));
    }

    private static List<Manifest.Topic> topics(Admin admin) {
        Map<String, Manifest.Topic> topics = new TreeMap<>();
        Set<String> names = await(admin.listTopics().names());
        for (TopicDescription found :
                await(admin.describeTopics(names).allTopicNames()).values()) {
            if (!found.name().startsWith("__")) {
                topics.put(
                        found.name(),
                        new Manifest.Topic(found.name(), found.partitions().size(), config(admin, found.name())));
            }
        }
        return List.copyOf(topics.values());
    }

    private static Map<String, String> config(Admin admin, String topic) {
        ConfigResource resource = new ConfigResource(ConfigResource.Type.TOPIC, topic);
        Map<String, String> config = new TreeMap<>();
        for (ConfigEntry entry : Objects.requireNonNull(
                        await(admin.describeConfigs(List.of(resource)).all()).get(resource))
                .entries()) {
            if (entry.source() == ConfigEntry.ConfigSource.DYNAMIC_TOPIC_CONFIG) {
                config.put(entry.name(), entry.value());
            }
        }
        return config;
    }

    static Map<TopicPartition, Long> ends(Admin admin, Collection<Manifest.Topic> topics, IsolationLevel level) {
        Map<TopicPartition, OffsetSpec> asked = new HashMap<>();
        for (Manifest.Topic topic : topics) {
            for (int i = 0; i < topic.partitions(); i++) {
                asked.put(new TopicPartition(topic.name(), i), OffsetSpec.latest());
            }
        }
        Map<TopicPartition, Long> ends = new HashMap<>();
        for (Map.Entry<TopicPartition, ListOffsetsResultInfo> found : await(
                        admin.listOffsets(asked, new ListOffsetsOptions(level)).all())
                .entrySet()) {
            ends.put(found.getKey(), found.getValue().offset());
        }
        return ends;
    }

    /** Those that no open transaction is about to move. */
    private static Map<TopicPartition, OffsetAndMetadata> positions(Admin admin) {
        long deadline = System.nanoTime() + REST.toNanos();
        while (true) {
            try {
                Map<TopicPartition, OffsetAndMetadata> found = await(admin.listConsumerGroupOffsets(
                                StageSettings.APPLICATION_ID, new ListConsumerGroupOffsetsOptions().requireStable(true))
                        .partitionsToOffsetAndMetadata());
                Map<TopicPartition, OffsetAndMetadata> positions = new HashMap<>(found);
                positions.values().removeIf(Objects::isNull);
                return positions;
            } catch (UnstableOffsetCommitException moving) {
                if (System.nanoTime() > deadline) {
                    throw new BackupException("a transaction of analytics does not end", moving);
                }
                pause();
            }
        }
    }

    static <T> T await(KafkaFuture<T> future) {
        try {
            return future.get(ANSWER.toMillis(), TimeUnit.MILLISECONDS);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof UnstableOffsetCommitException moving) {
                throw moving;
            }
            throw new BackupException("Kafka refused: " + e.getCause(), e);
        } catch (TimeoutException e) {
            throw new BackupException("Kafka did not answer within " + ANSWER.toSeconds() + " s", e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new BackupException("interrupted", e);
        }
    }

    private static void pause() {
        try {
            TimeUnit.MILLISECONDS.sleep(BETWEEN_LOOKS_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new BackupException("interrupted", e);
        }
    }
}
