package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.IntPredicate;
import org.apache.kafka.clients.consumer.CloseOptions;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.consumer.ConsumerRebalanceListener;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Which partitions of the sites' logs this instance of ingest writes the ticks of, where there are several: a group of
 * Kafka's hands each partition to one of them. Nothing is read. Without Kafka no partition is anybody's, so no time passes;
 * one that is killed is replaced when its session is over, and its partitions lack those seconds' tick at most.
 */
public final class TickRota implements IntPredicate, AutoCloseable {
    static final String GROUP = "rimecast-ticks";

    private static final Logger log = LoggerFactory.getLogger(TickRota.class);
    private static final int SESSION_MILLIS = 6_000;
    private static final Duration POLL = Duration.ofMillis(300);
    private static final Duration CLOSE_LIMIT = Duration.ofSeconds(2);
    private static final long RETRY_MILLIS = 1_000;

    private final Map<String, String> kafka;
    private final Set<Integer> ours = ConcurrentHashMap.newKeySet();
    private final Thread thread = new Thread(this::run, "ingest-tick-rota");
    private volatile boolean closing;

    public TickRota(Map<String, String> kafka) {
        this.kafka = kafka;
        thread.setDaemon(true);
    }

    public void start() {
        thread.start();
    }

    /** Whether its thread runs. */
    public boolean isAlive() {
        return thread.isAlive();
    }

    @Override
    public boolean test(int partition) {
        return ours.contains(partition);
    }

    private void run() {
        while (!closing) {
            try {
                takePart();
            } catch (RuntimeException away) {
                log.warn("the rota of ticks can't be read now, trying again: {}", away.toString());
                pause();
            } finally {
                ours.clear();
            }
        }
    }

    private void takePart() {
        KafkaConsumer<byte[], byte[]> member = new KafkaConsumer<>(config());
        try {
            member.subscribe(List.of(Topics.SITES), new Handover(member));
            while (!closing) {
                member.poll(POLL);
            }
        } finally {
            member.close(CloseOptions.timeout(CLOSE_LIMIT));
        }
    }

    private Map<String, Object> config() {
        Map<String, Object> config = new HashMap<>(ClientConfig.reader(kafka, "rimecast-ingest-ticks"));
        config.put(ConsumerConfig.GROUP_ID_CONFIG, GROUP);
        config.put(ConsumerConfig.SESSION_TIMEOUT_MS_CONFIG, SESSION_MILLIS);
        config.put(ConsumerConfig.HEARTBEAT_INTERVAL_MS_CONFIG, SESSION_MILLIS / 4);
        config.put(ConsumerConfig.AUTO_OFFSET_RESET_CONFIG, "latest");
        return config;
    }

    private final class Handover implements ConsumerRebalanceListener {
        private final KafkaConsumer<?, ?> member;

        Handover(KafkaConsumer<?, ?> member) {
            this.member = member;
        }

        @Override
        public void onPartitionsAssigned(Collection<TopicPartition> partitions) {
            member.pause(partitions);
            partitions.forEach(partition -> ours.add(partition.partition()));
        }

        @Override
        public void onPartitionsRevoked(Collection<TopicPartition> partitions) {
            partitions.forEach(partition -> ours.remove(partition.partition()));
        }
    }

    private static void pause() {
        try {
            Thread.sleep(RETRY_MILLIS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void close() {
        closing = true;
        try {
            thread.join(CLOSE_LIMIT.multipliedBy(2).toMillis());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
