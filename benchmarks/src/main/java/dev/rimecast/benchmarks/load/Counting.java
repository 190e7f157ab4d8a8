package dev.rimecast.benchmarks.load;

import dev.rimecast.telemetry.log.Topics;
import java.nio.ByteBuffer;
import java.util.Properties;
import java.util.concurrent.atomic.AtomicLong;
import org.apache.kafka.clients.producer.ProducerConfig;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.Serdes;
import org.apache.kafka.common.serialization.StringDeserializer;
import org.apache.kafka.streams.AutoOffsetReset;
import org.apache.kafka.streams.KafkaStreams;
import org.apache.kafka.streams.StreamsConfig;
import org.apache.kafka.streams.Topology;
import org.apache.kafka.streams.processor.api.Processor;
import org.apache.kafka.streams.processor.api.ProcessorContext;
import org.apache.kafka.streams.processor.api.Record;
import org.apache.kafka.streams.state.KeyValueStore;
import org.apache.kafka.streams.state.Stores;

/** The least that Kafka Streams can do with the sites' logs, exactly once: count records for each site, nothing decoded. */
final class Counting implements AutoCloseable {
    private static final String STORE = "counts";

    private final AtomicLong counted = new AtomicLong();
    private final KafkaStreams streams;

    Counting(Engine engine) {
        Properties p = new Properties();
        p.putAll(engine.client());
        p.put(StreamsConfig.APPLICATION_ID_CONFIG, "Counting");
        p.put(StreamsConfig.CLIENT_ID_CONFIG, "Counting-1");
        p.put(
                StreamsConfig.STATE_DIR_CONFIG,
                engine.directory().resolve("counting").toString());
        p.put(StreamsConfig.PROCESSING_GUARANTEE_CONFIG, StreamsConfig.EXACTLY_ONCE_V2);
        p.put(StreamsConfig.COMMIT_INTERVAL_MS_CONFIG, 100);
        p.put(StreamsConfig.STATESTORE_CACHE_MAX_BYTES_CONFIG, 16 << 20);
        p.put(StreamsConfig.producerPrefix(ProducerConfig.COMPRESSION_TYPE_CONFIG), "lz4");
        p.put(StreamsConfig.producerPrefix(ProducerConfig.MAX_IN_FLIGHT_REQUESTS_PER_CONNECTION), 1);
        Topology topology = new Topology()
                .addSource(
                        AutoOffsetReset.earliest(),
                        "in",
                        new StringDeserializer(),
                        new ByteArrayDeserializer(),
                        Topics.SITES)
                .addProcessor("count", CountOne::new, "in")
                .addStateStore(
                        Stores.keyValueStoreBuilder(
                                        Stores.inMemoryKeyValueStore(STORE), Serdes.String(), Serdes.ByteArray())
                                .withCachingEnabled(),
                        "count");
        streams = new KafkaStreams(topology, p);
        streams.start();
    }

    private final class CountOne implements Processor<String, byte[], Void, Void> {
        private @org.jspecify.annotations.Nullable KeyValueStore<String, byte[]> store;

        @Override
        public void init(ProcessorContext<Void, Void> context) {
            store = context.getStateStore(STORE);
        }

        @Override
        public void process(Record<String, byte[]> one) {
            KeyValueStore<String, byte[]> counts = store;
            if (one.key() == null || counts == null) {
                return;
            }
            byte[] before = counts.get(one.key());
            long count = before == null ? 0 : ByteBuffer.wrap(before).getLong();
            counts.put(
                    one.key(),
                    ByteBuffer.allocate(Long.BYTES).putLong(count + 1).array());
            counted.incrementAndGet();
        }
    }

    long counted() {
        return counted.get();
    }

    @Override
    public void close() {
        streams.close();
    }
}
