package dev.rimecast.analytics.stream;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.TopicSpec;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.apache.kafka.clients.producer.RecordMetadata;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The stage on a real broker: stopped, killed, and compared with a plain monitor on the log read back from Kafka. */
class AnalyticsStageIT {
    private static final List<String> SITES = List.of("harbour-north", "harbour-south", "mill-lane", "old-dairy");
    private static final Duration PATIENCE = Duration.ofSeconds(60);

    @TempDir
    Path directory;

    private EmbeddedKafka kafka;
    private CommittedTopic<Finding> findings;
    private final SimpleMeterRegistry registry = new SimpleMeterRegistry();

    @BeforeEach
    void startKafka() {
        kafka = EmbeddedKafka.start(directory.resolve("kafka"), KafkaSettings.standard(failure -> {}));
        kafka.createTopics(TopicSpec.oneMachine());
        findings = new CommittedTopic<>(kafka, Topics.FINDINGS, FindingJson::decode);
    }

    @AfterEach
    void stopKafka() {
        findings.close();
        kafka.close();
    }

    /** A member that was not known by its name would be waited for, for 45 seconds. */
    @Test
    void closeInTheMiddle_everyFindingOnce_andTheRestartWaitsForNobody() throws Exception {
        int half = writeLogs(1, 300);
        try (AnalyticsStage first = startStage()) {
            awaitFindings(half);
            awaitRunning(first);
        }
        int all = half + writeLogs(301, 600);
        long start = System.nanoTime();
        try (AnalyticsStage second = startStage()) {
            awaitFindings(half + 1);
            Duration untilFirstFinding = Duration.ofNanos(System.nanoTime() - start);
            awaitFindings(all);
            System.out.println("restart until the first new finding: " + untilFirstFinding.toMillis() + " ms");
            assertThat(untilFirstFinding).isLessThan(Duration.ofSeconds(30));
            assertThat(second.lagRecords()).isZero();
            assertNothingMoreComes(all);
        }
        assertLiveEqualsPlainRun();
        assertThat(registry.counter("rimecast.analytics.readings", "outcome", "used")
                        .count())
                .isEqualTo(2.0 * 600 * SITES.size());
    }

    @Test
    void killsUnderLoad_everyFindingOnce() throws Exception {
        long seed = System.nanoTime();
        Random random = new Random(seed);
        int all = writeLogs(1, 3000);
        for (int kill = 1; kill <= 3; kill++) {
            int seenBefore = findings.count();
            int target = seenBefore + 500 + random.nextInt(1500);
            long start = System.nanoTime();
            try (ChildJvm child = startChild()) {
                await().atMost(PATIENCE).until(() -> findings.count() > seenBefore);
                System.out.println("start " + kill + " until the first new finding: "
                        + TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - start) + " ms");
                await().atMost(PATIENCE).until(() -> findings.count() >= target);
            }
            assertThat(findings.count())
                    .as("killed before the end, seed %d", seed)
                    .isLessThan(all);
        }
        try (AnalyticsStage last = startStage()) {
            awaitFindings(all);
            assertNothingMoreComes(all);
            awaitRunning(last);
        }
        assertLiveEqualsPlainRun();
    }

    @Test
    void recordThatIsGarbage_isOneDeadLetterAndTheRestGoesOn() throws Exception {
        try (SitesTopic sites = new SitesTopic(kafka)) {
            sites.write(SITES.get(0), SiteLogs.registered(SITES.get(0), "ice-1"));
            sites.writeGarbage(SITES.get(0));
            sites.write(SITES.get(0), SiteLogs.pack(SITES.get(0), "ice-1", 1));
            sites.flush();
        }
        try (AnalyticsStage stage = startStage()) {
            awaitFindings(1);
            awaitRunning(stage);
        }
        assertThat(deadLetters()).isEqualTo(1);
        assertLiveEqualsPlainRun();
    }

    @Test
    void faultOfOurOwn_isTriedAgainThenReportedAndSkipsNothing() throws Exception {
        try (SitesTopic sites = new SitesTopic(kafka)) {
            sites.write(SITES.get(0), SiteLogs.registered(SITES.get(0), "ice-1"));
            sites.write(SITES.get(0), SiteLogs.pack(SITES.get(0), "ice-1", 1));
            sites.flush();
        }
        AtomicInteger attempts = new AtomicInteger();
        MonitorStep broken = (monitor, entry, out) -> {
            attempts.incrementAndGet();
            throw new AssertionError("not the record's fault");
        };
        StageSettings settings = settings();
        Map<String, String> client = new HashMap<>(kafka.client());
        // the least that a broker allows by default
        client.put("session.timeout.ms", "6000");
        client.put("heartbeat.interval.ms", "1000");
        StageSettings quick = new StageSettings(
                client,
                settings.applicationId(),
                settings.instanceId(),
                settings.stateDirectory(),
                settings.threads(),
                settings.commitInterval(),
                settings.firstPolicy());
        try (AnalyticsStage stage = AnalyticsStage.start(quick, registry, broken)) {
            await().dontCatchUncaughtExceptions()
                    .atMost(PATIENCE)
                    .until(() -> stage.health().state() == StageHealth.State.FAILED);
            assertThat(stage.health().reason()).contains("not the record's fault");
        }
        assertThat(attempts).hasValue(1 + ThreadReplacement.REPLACEMENTS);
        try (AnalyticsStage mended = startStage()) {
            awaitFindings(1);
            awaitRunning(mended);
        }
        assertThat(deadLetters()).isZero();
        assertLiveEqualsPlainRun();
    }

    @Test
    void siteIsWhereThePartitionerHelperSays() throws Exception {
        try (SitesTopic sites = new SitesTopic(kafka)) {
            SITES.forEach(site -> sites.write(site, SiteLogs.registered(site, "ice-1")));
            assertThat(sites.flush())
                    .extracting(RecordMetadata::partition)
                    .isEqualTo(SITES.stream()
                            .map(site -> SitePartitions.of(site, TopicSpec.ONE_MACHINE_PARTITIONS))
                            .toList());
        }
    }

    /** The group may still be letting go of members that are gone when the first finding is out. */
    private static void awaitRunning(AnalyticsStage stage) {
        await().atMost(PATIENCE).until(() -> stage.health().isRunning());
    }

    /** Packs {@code from} to {@code to} of every site and a tick each 50; returns how many findings that must give. */
    private int writeLogs(int from, int to) throws Exception {
        int expected = 0;
        try (SitesTopic sites = new SitesTopic(kafka)) {
            if (from == 1) {
                SITES.forEach(site -> sites.write(site, SiteLogs.registered(site, "ice-1")));
            }
            for (int i = from; i <= to; i++) {
                for (String site : SITES) {
                    sites.write(site, SiteLogs.pack(site, "ice-1", i));
                    expected++;
                }
                if (i % 50 == 0) {
                    sites.tickEverywhere(i);
                    expected += SITES.size();
                }
            }
            sites.flush();
        }
        return expected;
    }

    private AnalyticsStage startStage() {
        return AnalyticsStage.start(settings(), registry, CountingStep.AT_ONCE);
    }

    private ChildJvm startChild() throws Exception {
        return ChildJvm.start(
                StageChild.class,
                directory.resolve("kafka").toString(),
                settings().stateDirectory().toString(),
                "counting",
                "200000");
    }

    private int deadLetters() {
        try (CommittedTopic<byte[]> aside = new CommittedTopic<>(kafka, Topics.DEAD_LETTERS, bytes -> bytes)) {
            return aside.countAll();
        }
    }

    private StageSettings settings() {
        return StageSettings.oneMachine(kafka.client(), directory.resolve("streams"));
    }

    private void awaitFindings(int count) {
        await().atMost(PATIENCE).until(() -> findings.count() >= count);
    }

    private void assertNothingMoreComes(int count) {
        await().during(Duration.ofSeconds(1)).atMost(Duration.ofSeconds(3)).until(() -> findings.count() == count);
    }

    private void assertLiveEqualsPlainRun() {
        SiteLogReader reader = new SiteLogReader(kafka.client());
        findings.countAll();
        for (String site : SITES) {
            List<SiteRecord> log = reader.read(site);
            List<Finding> expected = PlainRun.of(site, log, CountingStep.AT_ONCE).findings;
            assertThat(findings.of(site)).as(site).isEqualTo(expected);
        }
    }
}
