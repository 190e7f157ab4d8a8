package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.clients.consumer.OffsetAndTimestamp;
import org.apache.kafka.common.TopicPartition;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Follows the topic {@code acks} by a thread of its own, every partition, whatever other instances read: a gateway may
 * be connected to any. Begins an hour back, so that a gateway that comes back with ours is told at once; one whose last
 * word is older is told with its next pack. Nothing waits for it: without Kafka no gateway is told, and keeps its packs.
 */
public final class AckFeed implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(AckFeed.class);
    private static final Duration BACK = Duration.ofHours(1);
    private static final Duration POLL = Duration.ofMillis(200);

    private final Consumer<GatewayAck> onAck;
    private final TopicFollower follower;
    private boolean isTold;

    /** @param onAck called on this feed's thread, in the order of the topic for each gateway */
    public AckFeed(Map<String, String> kafka, Consumer<GatewayAck> onAck) {
        this.onAck = onAck;
        this.follower = new TopicFollower(kafka, Topics.ACKS, "ingest-acks", this::follow, this::failed);
    }

    public void start() {
        follower.start();
    }

    /** Said once: the register, which needs Kafka too, says it again. */
    private void failed(RuntimeException away) {
        if (!isTold) {
            log.warn("acknowledgements can't be read now, trying again: {}", away.toString());
            isTold = true;
        }
    }

    private void follow(KafkaConsumer<byte[], byte[]> reader, List<TopicPartition> partitions) {
        seekBack(reader, partitions);
        isTold = false;
        while (!follower.isClosing()) {
            reader.poll(POLL).forEach(this::take);
        }
    }

    /** To the first record of the last hour, or to the end of a partition that has none. */
    private static void seekBack(KafkaConsumer<byte[], byte[]> reader, List<TopicPartition> partitions) {
        // Times of the topic are the broker's own clock.
        long since = System.currentTimeMillis() - BACK.toMillis();
        Map<TopicPartition, OffsetAndTimestamp> found =
                reader.offsetsForTimes(partitions.stream().collect(Collectors.toMap(p -> p, p -> since)));
        Map<TopicPartition, Long> ends = reader.endOffsets(partitions);
        for (TopicPartition partition : partitions) {
            OffsetAndTimestamp first = found.get(partition);
            OptionalLong at = first == null ? OptionalLong.empty() : OptionalLong.of(first.offset());
            reader.seek(partition, at.orElse(ends.getOrDefault(partition, 0L)));
        }
    }

    private void take(ConsumerRecord<byte[], byte[]> found) {
        GatewayAck ack;
        try {
            ack = GatewayAckJson.decode(found.value() == null ? new byte[0] : found.value());
        } catch (MalformedRecordException e) {
            log.error(
                    "acknowledgement {} of partition {} can't be read and is left out: {}",
                    found.offset(),
                    found.partition(),
                    e.getMessage());
            return;
        }
        onAck.accept(ack);
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
