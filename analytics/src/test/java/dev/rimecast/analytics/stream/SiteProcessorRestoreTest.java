package dev.rimecast.analytics.stream;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.apache.kafka.common.serialization.Serdes;
import org.apache.kafka.streams.processor.api.MockProcessorContext;
import org.apache.kafka.streams.processor.api.Record;
import org.apache.kafka.streams.state.KeyValueStore;
import org.apache.kafka.streams.state.Stores;
import org.junit.jupiter.api.Test;

/** A task that begins again on the same store, as after a restart or an aborted transaction. */
class SiteProcessorRestoreTest {
    private static final String SITE = "harbour-north";
    /** Sorts between the parts of {@code harbour} and those of a longer name: must not be mixed up. */
    private static final String SHORT_SITE = "harbour";

    private final MockProcessorContext<String, byte[]> context = new MockProcessorContext<>();
    private final AtomicLong nanos = new AtomicLong();
    private final SiteProcessor processor = new SiteProcessor(
            Policy.standard(),
            CountingStep.AT_ONCE,
            new StageCounters(new SimpleMeterRegistry()),
            new PromptCommit(nanos::get));

    @Test
    void initAgainAfterEveryRecord_decidesAsIfNeverStopped() {
        List<SiteRecord> log = log(SITE);
        openStore();
        for (SiteRecord entry : log) {
            processor.init(context);
            processor.process(raw(SITE, entry));
            processor.close();
        }
        assertThat(findings(SITE)).isEqualTo(PlainRun.of(SITE, log, CountingStep.AT_ONCE).findings);
    }

    @Test
    void twoSites_areRestoredApart() {
        openStore();
        processor.init(context);
        for (String site : List.of(SITE, SHORT_SITE)) {
            log(site).forEach(entry -> processor.process(raw(site, entry)));
        }
        processor.init(context);
        SiteRecord next = SiteLogs.pack(SHORT_SITE, "ice-1", 21);
        processor.process(raw(SHORT_SITE, next));

        List<SiteRecord> whole = log(SHORT_SITE);
        whole.add(next);
        assertThat(findings(SHORT_SITE)).isEqualTo(PlainRun.of(SHORT_SITE, whole, CountingStep.AT_ONCE).findings);
        assertThat(findings(SITE)).hasSize(20);
    }

    @Test
    void storeThatWasRolledBack_isFollowed() {
        KeyValueStore<String, byte[]> store = openStore();
        processor.init(context);
        processor.process(raw(SITE, SiteLogs.registered(SITE, "ice-1")));
        processor.process(raw(SITE, SiteLogs.pack(SITE, "ice-1", 1)));
        byte[] committed = store.get(SITE + "/");
        byte[] committedMachine = store.get(SITE + "/ice-1");
        processor.process(raw(SITE, SiteLogs.pack(SITE, "ice-1", 2)));
        store.put(SITE + "/", committed);
        store.put(SITE + "/ice-1", committedMachine);
        context.resetForwards();

        processor.init(context);
        processor.process(raw(SITE, SiteLogs.pack(SITE, "ice-1", 2)));

        // Two readings of pack 1, two of pack 2, and the revision counts from 1: were the object ahead, pack 2 would
        // be a repeat and count twice.
        assertThat(findings(SITE)).extracting(Finding::revision).containsExactly(5);
        assertThat(findings(SITE)).extracting(Finding::summary).allMatch(text -> text.contains("repeated=0"));
    }

    @Test
    void finding_asksForACommit_andOneSoonAfterWaitsForTheInterval() {
        openStore();
        processor.init(context);
        processor.process(raw(SITE, SiteLogs.registered(SITE, "ice-1")));
        assertThat(context.committed()).isFalse();
        processor.process(raw(SITE, SiteLogs.pack(SITE, "ice-1", 1)));
        assertThat(context.committed()).isTrue();

        context.resetCommit();
        processor.process(raw(SITE, SiteLogs.pack(SITE, "ice-1", 2)));
        assertThat(context.committed()).isFalse();
        // A long time in which the thread works, as its punctuators tell.
        for (int i = 0; i < 40; i++) {
            nanos.addAndGet(PromptCommit.SPACING.toNanos() / 20);
            everyPunctuator();
        }
        assertThat(context.committed())
                .as("the interval has committed it long ago")
                .isFalse();
        processor.process(raw(SITE, SiteLogs.pack(SITE, "ice-1", 3)));
        assertThat(context.committed()).isTrue();
    }

    private void everyPunctuator() {
        context.scheduledPunctuators()
                .forEach(scheduled -> scheduled.getPunctuator().punctuate(0));
    }

    private static Record<String, byte[]> raw(String site, SiteRecord entry) {
        return new Record<>(site, SiteLogCodec.encode(entry), 0);
    }

    private static List<SiteRecord> log(String site) {
        List<SiteRecord> log = new ArrayList<>();
        log.add(SiteLogs.registered(site, "ice-1"));
        for (int i = 1; i <= 20; i++) {
            log.add(SiteLogs.pack(site, "ice-1", i));
        }
        return log;
    }

    private KeyValueStore<String, byte[]> openStore() {
        KeyValueStore<String, byte[]> store = Stores.keyValueStoreBuilder(
                        Stores.inMemoryKeyValueStore(SiteTopology.STORE), Serdes.String(), Serdes.ByteArray())
                .withLoggingDisabled()
                .build();
        store.init(context.getStateStoreContext(), store);
        return store;
    }

    private List<Finding> findings(String site) {
        return context.forwarded(SiteTopology.FINDINGS_SINK).stream()
                .filter(sent -> sent.record().key().equals(site))
                .map(sent -> FindingJson.decode(sent.record().value()))
                .toList();
    }
}
