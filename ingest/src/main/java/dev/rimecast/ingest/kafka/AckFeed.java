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
    private static final Duration RETRY = Duration.ofSeconds(1);

    private final String bootstrapServers;
    private final Consumer<GatewayAck> onAck;
    private final Thread thread;
    private boolean isTold;
    private volatile boolean closing;

    /** @param onAck called on this feed's thread, in the order of the topic for each gateway */
    public AckFeed(String bootstrapServers, Consumer<GatewayAck> onAck) {
        this.bootstrapServers = bootstrapServers;
        this.onAck = onAck;
        this.thread = new Thread(this::run, "ingest-acks");
        thread.setDaemon(true);
    }

    public void start() {
        thread.start();
    }

    private void run() {
        while (!closing) {
            try (var reader =
                    new KafkaConsumer<byte[], byte[]>(ClientConfig.reader(bootstrapServers, "rimecast-ingest-acks"))) {
                follow(reader);
            } catch (RuntimeException away) {
                // Whatever it was, the feed must live on. Said once: the register, which needs Kafka too, says it
                // again.
                if (!isTold) {
                    log.warn("acknowledgements can't be read now, trying again: {}", away.toString());
                    isTold = true;
                }
                pause();
            }
        }
    }

    private void follow(KafkaConsumer<byte[], byte[]> reader) {
        List<TopicPartition> partitions = reader.partitionsFor(Topics.ACKS).stream()
                .map(info -> new TopicPartition(info.topic(), info.partition()))
                .toList();
        if (partitions.isEmpty()) {
            throw new IllegalStateException("topic " + Topics.ACKS + " is not there");
        }
        reader.assign(partitions);
        seekBack(reader, partitions);
        isTold = false;
        while (!closing) {
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

    private void pause() {
        try {
            Thread.sleep(RETRY.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void close() {
        closing = true;
        try {
            thread.join(Duration.ofSeconds(5).toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
