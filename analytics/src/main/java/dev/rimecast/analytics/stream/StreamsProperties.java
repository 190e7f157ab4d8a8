package dev.rimecast.analytics.stream;

import java.util.Properties;
import org.apache.kafka.clients.CommonClientConfigs;
import org.apache.kafka.clients.consumer.ConsumerConfig;
import org.apache.kafka.clients.producer.ProducerConfig;
import org.apache.kafka.common.config.TopicConfig;
import org.apache.kafka.streams.StreamsConfig;

/** The stage's settings as Kafka Streams wants them. */
final class StreamsProperties {
    private static final int SESSION_TIMEOUT_MILLIS = 10_000;
    private static final int SEVERAL_SESSION_TIMEOUT_MILLIS = 6_000;
    private static final long PROBING_MILLIS = 60_000;
    private static final int ALL_AT_ONCE = 1024;
    private static final int CACHE_BYTES = 16 << 20;
    private static final int BATCH_BYTES = 256 << 10;
    private static final long BUFFER_BYTES = 12L << 20;

    private StreamsProperties() {}

    static Properties of(StageSettings settings, StageCounters counters) {
        Properties p = new Properties();
        p.put(StreamsConfig.APPLICATION_ID_CONFIG, settings.applicationId());
        p.put(StreamsConfig.STATE_DIR_CONFIG, settings.stateDirectory().toString());
        p.put(StreamsConfig.NUM_STREAM_THREADS_CONFIG, settings.threads());
        p.put(StreamsConfig.PROCESSING_GUARANTEE_CONFIG, StreamsConfig.EXACTLY_ONCE_V2);
        p.put(StreamsConfig.COMMIT_INTERVAL_MS_CONFIG, settings.commitInterval().toMillis());
        p.put(StreamsConfig.STATESTORE_CACHE_MAX_BYTES_CONFIG, CACHE_BYTES);
        p.put(StreamsConfig.ENSURE_EXPLICIT_INTERNAL_RESOURCE_NAMING_CONFIG, true);
        p.put(StreamsConfig.GROUP_PROTOCOL_CONFIG, "classic");
        // Without it a stopped instance keeps its place for 45 s and the next start waits that long.
        p.put(StreamsConfig.mainConsumerPrefix(CommonClientConfigs.GROUP_INSTANCE_ID_CONFIG), settings.instanceId());
        // A thread that died is replaced under another name, and the old one keeps its partitions so long.
        p.put(ConsumerConfig.SESSION_TIMEOUT_MS_CONFIG, SESSION_TIMEOUT_MILLIS);
        p.put(ConsumerConfig.HEARTBEAT_INTERVAL_MS_CONFIG, SESSION_TIMEOUT_MILLIS / 4);
        p.put(StreamsConfig.consumerPrefix(ConsumerConfig.ISOLATION_LEVEL_CONFIG), "read_committed");
        // States change a little each time: much of the changelog compresses away.
        p.put(StreamsConfig.producerPrefix(ProducerConfig.COMPRESSION_TYPE_CONFIG), "lz4");
        // The first batch of a transaction is refused while the broker still ends the one before, and what is sent
        // behind it then fails as out of order: right in the end, but an error in the broker's log each time.
        p.put(StreamsConfig.producerPrefix(ProducerConfig.MAX_IN_FLIGHT_REQUESTS_PER_CONNECTION), 1);
        // A commit waits until all states are sent, and a request takes one batch of each partition: what has changed
        // since
        // the last commit should fit into one. With Kafka's 16 KiB the thread waited for more than half of its time.
        p.put(StreamsConfig.producerPrefix(ProducerConfig.BATCH_SIZE_CONFIG), BATCH_BYTES);
        // A producer never gives back a batch's buffer once it has had it: after the worst minute of its life it held
        // 32 MiB. A transaction of the largest fleet has less than this under way; beyond it, sending waits.
        p.put(StreamsConfig.producerPrefix(ProducerConfig.BUFFER_MEMORY_CONFIG), BUFFER_BYTES);
        p.put(StreamsConfig.PROCESSING_EXCEPTION_HANDLER_CLASS_CONFIG, ProcessFailureHandler.class);
        p.put(DeadLetterDesk.CONFIG, new DeadLetterDesk(counters));
        settings.several().ifPresent(several -> share(p, several));
        p.putAll(settings.kafka());
        return p;
    }

    /** How partitions and their state move between instances. */
    private static void share(Properties p, StageSettings.Several several) {
        p.put(StreamsConfig.REPLICATION_FACTOR_CONFIG, (int) several.replication());
        p.put(StreamsConfig.topicPrefix(TopicConfig.MIN_IN_SYNC_REPLICAS_CONFIG), several.minInSync());
        p.put(StreamsConfig.NUM_STANDBY_REPLICAS_CONFIG, several.standbys());
        // A killed one is replaced only when its session is over. The least that brokers take as they come.
        p.put(ConsumerConfig.SESSION_TIMEOUT_MS_CONFIG, SEVERAL_SESSION_TIMEOUT_MILLIS);
        p.put(ConsumerConfig.HEARTBEAT_INTERVAL_MS_CONFIG, SEVERAL_SESSION_TIMEOUT_MILLIS / 4);
        // What a killed one had begun must have ended before another can go on: as soon, instead of after 10 s.
        p.put(StreamsConfig.producerPrefix(ProducerConfig.TRANSACTION_TIMEOUT_CONFIG), SEVERAL_SESSION_TIMEOUT_MILLIS);
        // A new one first restores a copy while the old one goes on, and takes over at the next look: the least time
        // there is, instead of ten minutes, and every partition at once, instead of two.
        p.put(StreamsConfig.PROBING_REBALANCE_INTERVAL_MS_CONFIG, PROBING_MILLIS);
        p.put(StreamsConfig.MAX_WARMUP_REPLICAS_CONFIG, ALL_AT_ONCE);
    }
}
