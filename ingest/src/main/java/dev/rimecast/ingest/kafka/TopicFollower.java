package dev.rimecast.ingest.kafka;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;

/**
 * Reads every partition of a topic on a thread of its own, whatever other instances read. Whatever goes wrong, it lives on
 * and begins again after a second.
 */
final class TopicFollower implements AutoCloseable {
    private static final Duration RETRY = Duration.ofSeconds(1);
    private static final Duration CLOSE_LIMIT = Duration.ofSeconds(5);

    /** Reads until {@link TopicFollower#isClosing}, or throws. */
    interface Work {
        /** @param partitions all there are, assigned to the reader; at least one */
        void follow(KafkaConsumer<byte[], byte[]> reader, List<TopicPartition> partitions);
    }

    private final Map<String, String> kafka;
    private final String topic;
    private final Work work;
    private final Consumer<RuntimeException> onFailure;
    private final Thread thread;
    private volatile boolean closing;

    /**
     * @param name of the thread; the client's is the same after {@code rimecast-}
     * @param onFailure told each time that the topic could not be read
     */
    TopicFollower(
            Map<String, String> kafka, String topic, String name, Work work, Consumer<RuntimeException> onFailure) {
        this.kafka = kafka;
        this.topic = topic;
        this.work = work;
        this.onFailure = onFailure;
        this.thread = new Thread(this::run, name);
        thread.setDaemon(true);
    }

    void start() {
        thread.start();
    }

    boolean isAlive() {
        return thread.isAlive();
    }

    boolean isClosing() {
        return closing;
    }

    private void run() {
        while (!closing) {
            try (var reader =
                    new KafkaConsumer<byte[], byte[]>(ClientConfig.reader(kafka, "rimecast-" + thread.getName()))) {
                follow(reader);
            } catch (RuntimeException away) {
                onFailure.accept(away);
                pause();
            }
        }
    }

    private void follow(KafkaConsumer<byte[], byte[]> reader) {
        List<TopicPartition> partitions = reader.partitionsFor(topic).stream()
                .map(info -> new TopicPartition(info.topic(), info.partition()))
                .toList();
        if (partitions.isEmpty()) {
            throw new IllegalStateException("topic " + topic + " is not there");
        }
        reader.assign(partitions);
        work.follow(reader, partitions);
    }

    private static void pause() {
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
            thread.join(CLOSE_LIMIT.toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
