package dev.rimecast.engines;

import java.time.Duration;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.AlterConfigOp;
import org.apache.kafka.clients.admin.ConfigEntry;
import org.apache.kafka.clients.admin.NewTopic;
import org.apache.kafka.clients.admin.OffsetSpec;
import org.apache.kafka.clients.admin.TopicDescription;
import org.apache.kafka.common.KafkaFuture;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.config.ConfigResource;
import org.apache.kafka.common.errors.TopicAuthorizationException;
import org.apache.kafka.common.errors.TopicExistsException;
import org.apache.kafka.common.errors.UnknownTopicOrPartitionException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Creates topics, here or on an outside cluster. Doing it again changes nothing. */
public final class TopicSetup {
    private static final Logger log = LoggerFactory.getLogger(TopicSetup.class);

    private final Admin admin;
    private final Duration timeout;

    private TopicSetup(Admin admin, Duration timeout) {
        this.admin = admin;
        this.timeout = timeout;
    }

    /**
     * Creates what is missing, and sets what is there to the settings of {@code topics}, where our user may.
     *
     * @throws EngineException if a topic that is there has another number of partitions, or Kafka does not answer
     *     within {@code timeout}
     */
    public static void apply(Admin admin, Collection<TopicSpec> topics, short replication, Duration timeout) {
        new TopicSetup(admin, timeout).apply(topics, replication);
    }

    private void apply(Collection<TopicSpec> topics, short replication) {
        Set<String> there = await(admin.listTopics().names());
        List<TopicSpec> missing =
                topics.stream().filter(t -> !there.contains(t.name())).toList();
        for (TopicSpec topic : missing) {
            NewTopic wanted = new NewTopic(topic.name(), topic.partitions(), replication).configs(topic.config());
            try {
                await(admin.createTopics(List.of(wanted)).all());
            } catch (TopicExistsException somebodyWasFaster) {
                awaitVisible(topic.name());
                bringLevel(topic, replication);
            }
        }
        missing.forEach(topic -> awaitVisible(topic.name()));
        awaitLed(missing);
        topics.stream().filter(t -> there.contains(t.name())).forEach(topic -> bringLevel(topic, replication));
    }

    private void bringLevel(TopicSpec topic, short replication) {
        TopicDescription found = Objects.requireNonNull(
                await(admin.describeTopics(List.of(topic.name())).allTopicNames())
                        .get(topic.name()));
        if (found.partitions().size() != topic.partitions()) {
            throw new EngineException("topic " + topic.name() + " has "
                    + found.partitions().size() + " partitions, the configuration says " + topic.partitions()
                    + ": the number is fixed when the topic is made, set the configuration to what is there");
        }
        int copies = found.partitions().get(0).replicas().size();
        if (copies < replication) {
            log.warn(
                    "topic {} has {} copies, the configuration says {}: a topic that is there keeps what it has, until"
                            + " kafka-reassign-partitions.sh gives it more",
                    topic.name(),
                    copies,
                    replication);
        }
        Map<ConfigResource, Collection<AlterConfigOp>> changes = new HashMap<>();
        changes.put(
                new ConfigResource(ConfigResource.Type.TOPIC, topic.name()),
                topic.config().entrySet().stream()
                        .map(e ->
                                new AlterConfigOp(new ConfigEntry(e.getKey(), e.getValue()), AlterConfigOp.OpType.SET))
                        .toList());
        try {
            await(admin.incrementalAlterConfigs(changes).all());
        } catch (EngineException e) {
            if (e.getCause() instanceof ExecutionException failed
                    && failed.getCause() instanceof TopicAuthorizationException) {
                log.info("topic {} keeps the settings that it has: our user may not change them", topic.name());
                return;
            }
            throw e;
        }
    }

    /** The controller has made a topic a moment before every broker knows it. */
    private void awaitVisible(String topic) {
        long start = System.nanoTime();
        while (true) {
            try {
                await(admin.describeTopics(List.of(topic)).allTopicNames());
                return;
            } catch (UnknownTopicOrPartitionException notYet) {
                if (System.nanoTime() - start > timeout.toNanos()) {
                    throw new EngineException("topic " + topic + " was made but is not there", notYet);
                }
                pause();
            }
        }
    }

    /**
     * A new partition takes nothing before its broker knows that it leads it. Of a producer with several requests under way the
     * first one may be refused then and the second one taken, and the first never again.
     */
    private void awaitLed(List<TopicSpec> topics) {
        Map<TopicPartition, OffsetSpec> ends = new HashMap<>();
        for (TopicSpec topic : topics) {
            for (int i = 0; i < topic.partitions(); i++) {
                ends.put(new TopicPartition(topic.name(), i), OffsetSpec.latest());
            }
        }
        await(admin.listOffsets(ends).all());
    }

    private static void pause() {
        try {
            Thread.sleep(20);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new EngineException("interrupted while setting up topics", e);
        }
    }

    private <T> T await(KafkaFuture<T> future) {
        try {
            return future.get(timeout.toMillis(), TimeUnit.MILLISECONDS);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof TopicExistsException exists) {
                throw exists;
            }
            if (e.getCause() instanceof UnknownTopicOrPartitionException unknown) {
                throw unknown;
            }
            throw new EngineException("Kafka refused to set up topics: " + e.getCause(), e);
        } catch (TimeoutException e) {
            throw new EngineException("Kafka did not answer within " + timeout.toSeconds() + " s", e);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new EngineException("interrupted while setting up topics", e);
        }
    }
}
