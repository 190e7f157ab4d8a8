package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.gateway.GatewayKeysJson;
import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.ConsumerRecords;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The keys of gateways as the topic {@code credentials} has them, kept up to date by a thread of its own. There are none until the
 * topic has been read to where it ended at the start: before that a revoked key could still be in force.
 */
public final class CredentialsView implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(CredentialsView.class);
    private static final Duration POLL = Duration.ofMillis(200);

    private final Consumer<Map<String, List<GatewayKey>>> onChange;
    private final TopicFollower follower;

    /** @param onChange called on this view's thread: once when the topic has been read to its end, then after changes */
    public CredentialsView(Map<String, String> kafka, Consumer<Map<String, List<GatewayKey>>> onChange) {
        this.onChange = onChange;
        this.follower = new TopicFollower(
                kafka,
                Topics.CREDENTIALS,
                "ingest-credentials",
                this::follow,
                away -> log.warn("the keys of gateways can't be read now, trying again: {}", away.toString()));
    }

    public void start() {
        follower.start();
    }

    private void follow(KafkaConsumer<byte[], byte[]> reader, List<TopicPartition> partitions) {
        reader.seekToBeginning(partitions);
        Map<TopicPartition, Long> ends = reader.endOffsets(partitions);
        Map<String, List<GatewayKey>> keys = new HashMap<>();
        boolean isComplete = false;
        while (!follower.isClosing()) {
            boolean hasNew = apply(reader.poll(POLL), keys);
            boolean wasComplete = isComplete;
            isComplete =
                    isComplete || partitions.stream().allMatch(p -> reader.position(p) >= ends.getOrDefault(p, 0L));
            if (isComplete && (hasNew || !wasComplete)) {
                onChange.accept(Map.copyOf(keys));
            }
        }
    }

    /** A row that can't be read locks its gateway out: an older row may be what it was to end. */
    private static boolean apply(ConsumerRecords<byte[], byte[]> batch, Map<String, List<GatewayKey>> keys) {
        for (ConsumerRecord<byte[], byte[]> row : batch) {
            String gateway = new String(row.key(), StandardCharsets.UTF_8);
            try {
                if (row.value() == null) {
                    keys.remove(gateway);
                } else {
                    keys.put(gateway, GatewayKeysJson.decode(row.value()));
                }
            } catch (MalformedRecordException e) {
                keys.put(gateway, List.of());
                log.error("the keys of gateway {} can't be read, so it is locked out: {}", gateway, e.getMessage());
            }
        }
        return !batch.isEmpty();
    }

    /** Whether its thread runs. */
    public boolean isAlive() {
        return follower.isAlive();
    }

    @Override
    public void close() {
        follower.close();
    }
}
