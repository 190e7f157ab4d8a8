package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.log.Topics;
import java.util.Map;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.apache.kafka.common.serialization.Serdes;
import org.apache.kafka.common.serialization.StringDeserializer;
import org.apache.kafka.common.serialization.StringSerializer;
import org.apache.kafka.streams.AutoOffsetReset;
import org.apache.kafka.streams.Topology;
import org.apache.kafka.streams.state.KeyValueStore;
import org.apache.kafka.streams.state.StoreBuilder;
import org.apache.kafka.streams.state.Stores;

/**
 * {@code sites} → monitors → {@code cycles}, {@code findings}, {@code proofs}, {@code acks}. Names are fixed: they are
 * part of stored topics.
 */
final class SiteTopology {
    static final String STORE = "monitors";
    static final String CYCLES_SINK = "cycles-out";
    static final String FINDINGS_SINK = "findings-out";
    static final String PROOFS_SINK = "proofs-out";
    static final String ACKS_SINK = "acks-out";

    private static final String SOURCE = "sites-log";
    private static final String PROCESSOR = "site-monitors";

    private SiteTopology() {}

    static Topology of(Policy firstPolicy, MonitorStep step, StageCounters counters) {
        PromptCommit prompt = new PromptCommit(System::nanoTime);
        return new Topology()
                .addSource(
                        AutoOffsetReset.earliest(),
                        SOURCE,
                        new StringDeserializer(),
                        // Read in the processor: Streams looks ahead, and what goes wrong there is not in the
                        // transaction that steps over the record.
                        new ByteArrayDeserializer(),
                        Topics.SITES)
                .addProcessor(PROCESSOR, () -> new SiteProcessor(firstPolicy, step, counters, prompt), SOURCE)
                .addStateStore(store(), PROCESSOR)
                .addSink(CYCLES_SINK, Topics.CYCLES, new StringSerializer(), new ByteArraySerializer(), PROCESSOR)
                .addSink(FINDINGS_SINK, Topics.FINDINGS, new StringSerializer(), new ByteArraySerializer(), PROCESSOR)
                .addSink(PROOFS_SINK, Topics.PROOFS, new StringSerializer(), new ByteArraySerializer(), PROCESSOR)
                .addSink(ACKS_SINK, Topics.ACKS, new StringSerializer(), new ByteArraySerializer(), PROCESSOR);
    }

    private static StoreBuilder<KeyValueStore<String, byte[]>> store() {
        return Stores.keyValueStoreBuilder(Stores.inMemoryKeyValueStore(STORE), Serdes.String(), Serdes.ByteArray())
                // A restart reads the whole changelog: small segments let compaction keep it near the state's size.
                .withLoggingEnabled(Map.of("segment.bytes", String.valueOf(16 << 20)))
                // Many records change the same machine between two commits; the changelog sees the last state only.
                .withCachingEnabled();
    }
}
