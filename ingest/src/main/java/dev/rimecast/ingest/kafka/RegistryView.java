package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.MalformedRecordException;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Register;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.ConsumerRecords;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * The register as the topic {@code registry} has it, kept up to date by a thread of its own. There is none until the
 * topic has been read to where it ended at the start: before that a registered machine would look unclaimed.
 */
public final class RegistryView implements AutoCloseable {
    private static final Logger log = LoggerFactory.getLogger(RegistryView.class);
    private static final Duration POLL = Duration.ofMillis(200);
    /** An import is thousands of rows, and each register that comes into force costs: wait whether more comes. */
    private static final Duration MORE = Duration.ofMillis(50);

    private static final Duration LONGEST_UNTOLD = Duration.ofSeconds(2);

    private final Consumer<Register> onChange;
    private final TopicFollower follower;

    /**
     * @param onChange called on this view's thread: once when the topic has been read to its end, then after changes
     */
    public RegistryView(Map<String, String> kafka, Consumer<Register> onChange) {
        this.onChange = onChange;
        this.follower = new TopicFollower(
                kafka,
                Topics.REGISTRY,
                "ingest-registry",
                this::follow,
                away -> log.warn("the register can't be read now, trying again: {}", away.toString()));
    }

    public void start() {
        follower.start();
    }

    /** From the beginning, each time: whatever it was that ended the last reading. */
    private void follow(KafkaConsumer<byte[], byte[]> reader, List<TopicPartition> partitions) {
        reader.seekToBeginning(partitions);
        Map<TopicPartition, Long> ends = reader.endOffsets(partitions);
        RegisterRows rows = new RegisterRows();
        boolean isComplete = false;
        boolean isTold = true;
        long untoldSince = 0;
        while (!follower.isClosing()) {
            boolean hasNew = apply(reader.poll(isTold ? POLL : MORE), rows);
            if (!isComplete && partitions.stream().allMatch(p -> reader.position(p) >= ends.getOrDefault(p, 0L))) {
                isComplete = true;
                hasNew = true;
            }
            if (hasNew && isTold) {
                isTold = false;
                untoldSince = System.nanoTime();
            }
            boolean isLongEnough = System.nanoTime() - untoldSince > LONGEST_UNTOLD.toNanos();
            if (isComplete && !isTold && (!hasNew || isLongEnough)) {
                onChange.accept(rows.register());
                isTold = true;
            }
        }
    }

    private static boolean apply(ConsumerRecords<byte[], byte[]> batch, RegisterRows rows) {
        for (ConsumerRecord<byte[], byte[]> row : batch) {
            String key = new String(row.key(), StandardCharsets.UTF_8);
            Optional<byte[]> value = Optional.ofNullable(row.value());
            try {
                value.ifPresentOrElse(bytes -> rows.put(key, SiteLogCodec.decode(bytes)), () -> rows.end(key));
            } catch (MalformedRecordException e) {
                log.error("row {} of the register can't be read and is left out: {}", key, e.getMessage());
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
