package dev.rimecast.alerts.consume;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.FindingStore;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.InstantSource;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.apache.kafka.clients.CommonClientConfigs;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.consumer.CloseOptions.GroupMembershipOperation;
import org.apache.kafka.clients.consumer.Consumer;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.clients.producer.Producer;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;

/** The topics that become the database: findings, cycles, proofs of fix, the sites' logs, and orders to take dead letters again. A thread for each. */
public final class TopicReaders implements AutoCloseable {
    private final List<TopicReader<?>> readers;

    private TopicReaders(List<TopicReader<?>> readers) {
        this.readers = readers;
    }

    /**
     * @param kafka how to reach Kafka; {@code group.instance.id} names this instance where there are several
     * @param producer for dead letters
     */
    public static TopicReaders start(
            Map<String, String> kafka,
            Admin admin,
            Producer<byte[], byte[]> producer,
            Database database,
            FindingStore findings,
            ChangeFeed changes,
            InstantSource clock,
            StageHealth health,
            MeterRegistry meters) {
        DeadLetters deadLetters = new DeadLetters(producer);
        Function<TopicHandler<?>, TopicReader<?>> reader =
                handler -> reader(kafka, admin, database, handler, deadLetters, changes, health, meters);
        ReadingToAlert readingToAlert = new ReadingToAlert(meters, InstantSource.system());
        List<TopicReader<?>> readers = List.of(
                reader.apply(new FindingsHandler(findings, clock, readingToAlert)),
                reader.apply(new CyclesHandler()),
                reader.apply(new ProofsHandler()),
                reader.apply(new SitesHandler()),
                reader.apply(new OrdersHandler(List.of(
                        new FindingsHandler(findings, clock, readingToAlert),
                        new CyclesHandler(),
                        new ProofsHandler()))));
        readers.forEach(TopicReader::start);
        return new TopicReaders(readers);
    }

    /** Whether every thread runs; one that has ended takes a restart of the process. */
    public boolean areAlive() {
        return readers.stream().allMatch(TopicReader::isAlive);
    }

    private static <T> TopicReader<T> reader(
            Map<String, String> kafka,
            Admin admin,
            Database database,
            TopicHandler<T> handler,
            DeadLetters deadLetters,
            ChangeFeed changes,
            StageHealth health,
            MeterRegistry meters) {
        return new TopicReader<>(
                () -> consumer(kafka, handler.topic()),
                kafka.containsKey(ConsumerConfig.GROUP_INSTANCE_ID_CONFIG)
                        ? GroupMembershipOperation.LEAVE_GROUP
                        : GroupMembershipOperation.DEFAULT,
                admin,
                database,
                handler,
                deadLetters,
                changes,
                health,
                meters);
    }

    private static Consumer<byte[], byte[]> consumer(Map<String, String> kafka, String topic) {
        Map<String, Object> config = new HashMap<>();
        config.put(ConsumerConfig.MAX_POLL_RECORDS_CONFIG, 4_000);
        config.put(ConsumerConfig.FETCH_MAX_BYTES_CONFIG, 8 << 20);
        if (topic.equals(Topics.SITES)) {
            // Every reading there is, for the pages: a transaction for each few would cost more than what is in them.
            config.put(ConsumerConfig.FETCH_MIN_BYTES_CONFIG, 256 << 10);
            config.put(ConsumerConfig.FETCH_MAX_WAIT_MS_CONFIG, 200);
        }
        // A topic that is made after the start is found within this time.
        config.put(CommonClientConfigs.METADATA_MAX_AGE_CONFIG, 10_000);
        config.put(ConsumerConfig.SESSION_TIMEOUT_MS_CONFIG, 10_000);
        config.putAll(kafka);
        String instance = kafka.getOrDefault(ConsumerConfig.GROUP_INSTANCE_ID_CONFIG, "alerts-1");
        config.put(ConsumerConfig.GROUP_ID_CONFIG, "rimecast-alerts-" + topic);
        // Static membership: after a kill the same instance takes over at once, not after the session's end.
        config.put(ConsumerConfig.GROUP_INSTANCE_ID_CONFIG, instance);
        config.put(ConsumerConfig.ISOLATION_LEVEL_CONFIG, "read_committed");
        config.put(ConsumerConfig.ENABLE_AUTO_COMMIT_CONFIG, false);
        config.put(ConsumerConfig.AUTO_OFFSET_RESET_CONFIG, "none");
        config.put(ConsumerConfig.CLIENT_ID_CONFIG, instance + '-' + topic);
        return new KafkaConsumer<>(config, new ByteArrayDeserializer(), new ByteArrayDeserializer());
    }

    @Override
    public void close() {
        readers.forEach(TopicReader::beginClose);
        readers.forEach(TopicReader::close);
    }
}
