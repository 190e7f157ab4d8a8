package dev.rimecast.analytics.stream;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.ack.GatewayAckJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.DeadLetterHeaders;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Properties;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.apache.kafka.common.serialization.StringDeserializer;
import org.apache.kafka.common.serialization.StringSerializer;
import org.apache.kafka.streams.StreamsConfig;
import org.apache.kafka.streams.TestInputTopic;
import org.apache.kafka.streams.TestOutputTopic;
import org.apache.kafka.streams.TopologyTestDriver;
import org.apache.kafka.streams.test.TestRecord;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SiteTopologyTest {
    private static final String NORTH = "harbour-north";
    private static final String SOUTH = "harbour-south";

    @TempDir
    Path directory;

    private final SimpleMeterRegistry registry = new SimpleMeterRegistry();
    private Instant wall = Instant.parse("2026-05-04T12:00:00Z");
    private @Nullable TopologyTestDriver driver;

    @AfterEach
    void closeDriver() {
        if (driver != null) {
            driver.close();
        }
    }

    @Test
    void records_inOrder_decideWhatAPlainMonitorDecides() {
        List<SiteRecord> log = log(NORTH, 50);
        start(CountingStep.AT_ONCE);
        log.forEach(entry -> send(NORTH, entry));

        assertThat(findings())
                .isEqualTo(PlainRun.of(NORTH, log, CountingStep.AT_ONCE).findings)
                .hasSize(50);
        assertThat(registry.counter("rimecast.analytics.readings", "outcome", "used")
                        .count())
                .isEqualTo(100);
    }

    @Test
    void packAgain_isCountedAsRepeated() {
        start(CountingStep.AT_ONCE);
        send(NORTH, SiteLogs.registered(NORTH, "ice-1"));
        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 1));
        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 1));

        assertThat(registry.counter("rimecast.analytics.readings", "outcome", "used")
                        .count())
                .isEqualTo(2);
        assertThat(registry.counter("rimecast.analytics.readings", "outcome", "repeated")
                        .count())
                .isEqualTo(2);
    }

    @Test
    void tick_goesToEverySiteThatHasBegun() {
        start(CountingStep.AT_ONCE);
        send(null, SiteLogs.tick(1));
        send(NORTH, SiteLogs.registered(NORTH, "ice-1"));
        send(null, SiteLogs.tick(2));
        send(SOUTH, SiteLogs.registered(SOUTH, "ice-2"));
        send(null, SiteLogs.tick(3));

        assertThat(findings()).extracting(Finding::site).containsExactly(NORTH, NORTH, SOUTH);
        assertThat(deadLetters()).isEmpty();
    }

    @Test
    void unreadableRecord_isPutAsideWithItsReasonAndTheNextIsTaken() {
        start(CountingStep.AT_ONCE);
        byte[] garbage = "no record".getBytes(StandardCharsets.UTF_8);
        send(NORTH, SiteLogs.registered(NORTH, "ice-1"));
        input().pipeInput(NORTH.getBytes(StandardCharsets.UTF_8), garbage);
        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 1));

        TestRecord<byte[], byte[]> aside = onlyDeadLetter();
        assertThat(aside.key()).asString().isEqualTo(NORTH);
        assertThat(aside.value()).isEqualTo(garbage);
        assertThat(header(aside, "reason")).isEqualTo("decode");
        assertThat(header(aside, "source-topic")).isEqualTo("sites");
        assertThat(header(aside, "source-offset")).isEqualTo("1");
        assertThat(header(aside, "error")).contains("version");
        assertThat(findings()).hasSize(1);
        assertThat(registry.counter("rimecast.analytics.dead.letters", "reason", "decode")
                        .count())
                .isEqualTo(1);
    }

    @Test
    void recordThatWasTakenAgainAndFailsAgain_saysWhoseRepeatItIs() {
        start(CountingStep.AT_ONCE);
        var again = new TestRecord<byte[], byte[]>(NORTH.getBytes(StandardCharsets.UTF_8), new byte[] {99});
        again.headers().add(DeadLetterHeaders.REPLAY_OF, "first".getBytes(StandardCharsets.UTF_8));
        input().pipeInput(again);

        assertThat(header(onlyDeadLetter(), DeadLetterHeaders.REPLAY_OF)).isEqualTo("first");
    }

    @Test
    void packWithoutASite_isPutAside() {
        start(CountingStep.AT_ONCE);
        send(null, SiteLogs.pack(NORTH, "ice-1", 1));

        assertThat(header(onlyDeadLetter(), "error")).contains("Pack needs a site");
        assertThat(findings()).isEmpty();
    }

    @Test
    void keyThatIsNoIdentifier_isPutAside() {
        start(CountingStep.AT_ONCE);
        send("Harbour/North", SiteLogs.registered(NORTH, "ice-1"));
        send(null, SiteLogs.tick(1));

        assertThat(header(onlyDeadLetter(), "reason")).isEqualTo("process");
        assertThat(findings()).isEmpty();
    }

    @Test
    void monitorThatFailsHalfWay_isAsBeforeTheRecord() {
        List<SiteRecord> log = log(NORTH, 10);
        SiteRecord poison = log.get(6);
        start((monitor, entry, out) -> {
            CountingStep.AT_ONCE.apply(monitor, entry, out);
            if (entry.equals(poison)) {
                throw new IllegalStateException("half way");
            }
        });
        log.forEach(entry -> send(NORTH, entry));

        List<SiteRecord> without = new ArrayList<>(log);
        without.remove(poison);
        assertThat(findings())
                .isEqualTo(PlainRun.of(NORTH, without, CountingStep.AT_ONCE).findings)
                .hasSize(9);
        TestRecord<byte[], byte[]> aside = onlyDeadLetter();
        assertThat(aside.value()).isEqualTo(SiteLogCodec.encode(poison));
        assertThat(header(aside, "error")).contains(NORTH).contains("half way");
    }

    @Test
    void firstRecordFails_siteHasNotBegun() {
        start((monitor, entry, out) -> {
            if (entry instanceof SiteRecord.Registered) {
                throw new IllegalStateException("no");
            }
            CountingStep.AT_ONCE.apply(monitor, entry, out);
        });
        send(NORTH, SiteLogs.registered(NORTH, "ice-1"));
        send(null, SiteLogs.tick(1));

        assertThat(findings()).isEmpty();
    }

    @Test
    void tickThatOneSiteCannotTake_reachesTheOthers() {
        start((monitor, entry, out) -> {
            CountingStep.AT_ONCE.apply(monitor, entry, out);
            if (monitor.site().equals(NORTH) && entry instanceof SiteRecord.Tick) {
                throw new IllegalStateException("not mine");
            }
        });
        send(NORTH, SiteLogs.registered(NORTH, "ice-1"));
        send(SOUTH, SiteLogs.registered(SOUTH, "ice-2"));
        send(null, SiteLogs.tick(1));

        assertThat(findings()).extracting(Finding::site).containsExactly(SOUTH);
        assertThat(header(onlyDeadLetter(), "error")).contains(NORTH);
    }

    @Test
    void decisionTooLargeForKafka_isPutAsideBeforeItCanEndTheTransaction() {
        start((monitor, entry, out) -> {
            Finding small = CountingStep.finding(monitor, SiteLogs.START);
            out.finding(new Finding(
                    small.id(),
                    1,
                    small.step(),
                    small.site(),
                    small.machine(),
                    small.gateway(),
                    small.condition(),
                    small.stage(),
                    small.priority(),
                    small.at(),
                    small.raisedAt(),
                    small.causes(),
                    small.measure(),
                    small.limit(),
                    "x".repeat(Decisions.BYTES_MAX),
                    "test",
                    "test"));
        });
        send(NORTH, SiteLogs.registered(NORTH, "ice-1"));

        assertThat(header(onlyDeadLetter(), "error")).contains("a finding has").contains("bytes");
        assertThat(findings()).isEmpty();
    }

    @Test
    void numberedPacks_areAcknowledgedEveryFiveSeconds_asFarAsNoneIsMissing() {
        start(SiteMonitor::accept);
        send(NORTH, SiteLogs.registered(NORTH, "ice-1"));
        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 1));
        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 2));
        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 4));
        send(SOUTH, SiteLogs.pack(SOUTH, "ice-2", 1));
        assertThat(acks()).isEmpty();

        running().advanceWallClockTime(SiteProcessor.ACK_INTERVAL);
        assertThat(acks()).containsExactly(ack(NORTH, 2, 0), ack(SOUTH, 1, 0));

        running().advanceWallClockTime(SiteProcessor.ACK_INTERVAL);
        assertThat(acks()).as("nothing new, nothing told").isEmpty();

        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 3));
        running().advanceWallClockTime(SiteProcessor.ACK_INTERVAL);
        assertThat(acks()).containsExactly(ack(NORTH, 4, 0));
    }

    @Test
    void packWithNothingGoodInIt_isAcknowledged() {
        start(SiteMonitor::accept);
        send(
                NORTH,
                new SiteRecord.Pack(
                        "gw-" + NORTH, Optional.of(new PackNumber("boot-1", 1)), SiteLogs.START, List.of(), 1));
        running().advanceWallClockTime(SiteProcessor.ACK_INTERVAL);
        assertThat(acks()).containsExactly(ack(NORTH, 1, 0));
    }

    @Test
    void gap_openForTenMinutesOfTicks_isCounted_andSteppedOver() {
        start(SiteMonitor::accept);
        send(NORTH, SiteLogs.pack(NORTH, "ice-1", 1));
        for (int minute = 1; minute <= 11; minute++) {
            send(NORTH, SiteLogs.pack(NORTH, "ice-1", 3 + minute));
            send(null, SiteLogs.tick(minute));
        }
        running().advanceWallClockTime(SiteProcessor.ACK_INTERVAL);

        assertThat(acks()).containsExactly(ack(NORTH, 14, 2));
        assertThat(registry.counter("rimecast.analytics.pack.gaps").count()).isEqualTo(1);
        assertThat(registry.counter("rimecast.analytics.packs.missing").count()).isEqualTo(2);
        assertThat(findings()).isEmpty();
    }

    private static GatewayAck ack(String site, long seq, long missing) {
        return new GatewayAck("gw-" + site, new PackNumber("boot-1", seq), missing);
    }

    private List<GatewayAck> acks() {
        TestOutputTopic<String, byte[]> topic =
                running().createOutputTopic("acks", new StringDeserializer(), new ByteArrayDeserializer());
        return topic.readValuesToList().stream().map(GatewayAckJson::decode).toList();
    }

    private static List<SiteRecord> log(String site, int packs) {
        List<SiteRecord> log = new ArrayList<>();
        log.add(SiteLogs.registered(site, "ice-1"));
        for (int i = 1; i <= packs; i++) {
            log.add(SiteLogs.pack(site, "ice-1", i));
        }
        return log;
    }

    /** Names and the bound of 6 s: documentation of Kafka 4.4, configuration of Streams and brokers (group.min.session.timeout.ms). */
    @Test
    void settings_ofOneOfSeveral_keepItsStateReadyElsewhere() {
        StageSettings settings = StageSettings.oneOfSeveral(
                Map.of("bootstrap.servers", "127.0.0.1:1"), "b", directory, new StageSettings.Several((short) 3, 2, 1));

        StreamsConfig config = new StreamsConfig(StreamsProperties.of(settings, new StageCounters(registry)));
        Map<String, Object> member = config.getMainConsumerConfigs("group", "client", 1);

        assertThat(config.getInt("replication.factor")).isEqualTo(3);
        assertThat(config.originals()).containsEntry("topic.min.insync.replicas", 2);
        assertThat(config.getInt("num.standby.replicas")).isEqualTo(1);
        assertThat(String.valueOf(member.get("group.instance.id"))).startsWith("analytics-b");
        assertThat(String.valueOf(member.get("session.timeout.ms"))).isEqualTo("6000");
    }

    @Test
    void figures_ofATask_sayHowFarItIsAndWhatItKeeps() {
        start(SiteMonitor::accept);
        log("harbour", 3).forEach(entry -> send("harbour", entry));
        log("ward", 3).forEach(entry -> send("ward", entry));
        wall = wall.plus(Duration.ofMinutes(7));
        running().advanceWallClockTime(Duration.ofMinutes(1));
        long stored = 0;
        try (var all =
                running().<String, byte[]>getKeyValueStore(SiteTopology.STORE).all()) {
            while (all.hasNext()) {
                var entry = all.next();
                stored += entry.key.length() + entry.value.length;
            }
        }

        assertThat(figure("sites")).isEqualTo(2);
        assertThat(figure("tasks")).isEqualTo(1);
        assertThat(stored).isPositive();
        assertThat(figure("state.bytes")).isEqualTo(stored);
        assertThat(figure("behind.seconds")).isEqualTo(420);

        running().close();
        driver = null;
        assertThat(figure("tasks")).isZero();
        assertThat(figure("behind.seconds")).isNaN();
    }

    private double figure(String name) {
        return registry.get("rimecast.analytics." + name).gauge().value();
    }

    private void start(MonitorStep step) {
        StageCounters counters = new StageCounters(registry, () -> wall);
        Properties properties = StreamsProperties.of(
                StageSettings.oneMachine(Map.of("bootstrap.servers", "127.0.0.1:1"), directory), counters);
        driver = new TopologyTestDriver(SiteTopology.of(Policy.standard(), step, counters), properties, wall);
    }

    private TopologyTestDriver running() {
        return Objects.requireNonNull(driver);
    }

    private TestInputTopic<byte[], byte[]> input() {
        return running().createInputTopic("sites", new ByteArraySerializer(), new ByteArraySerializer());
    }

    private void send(@Nullable String site, SiteRecord entry) {
        running()
                .createInputTopic("sites", new StringSerializer(), new ByteArraySerializer(), wall, Duration.ZERO)
                .pipeInput(site, SiteLogCodec.encode(entry));
    }

    private List<Finding> findings() {
        TestOutputTopic<String, byte[]> topic =
                running().createOutputTopic("findings", new StringDeserializer(), new ByteArrayDeserializer());
        return topic.readValuesToList().stream().map(FindingJson::decode).toList();
    }

    private List<TestRecord<byte[], byte[]>> deadLetters() {
        return running()
                .createOutputTopic("dead-letters", new ByteArrayDeserializer(), new ByteArrayDeserializer())
                .readRecordsToList();
    }

    private TestRecord<byte[], byte[]> onlyDeadLetter() {
        List<TestRecord<byte[], byte[]>> all = deadLetters();
        assertThat(all).hasSize(1);
        return all.get(0);
    }

    private static String header(TestRecord<byte[], byte[]> entry, String name) {
        return new String(entry.headers().lastHeader(name).value(), StandardCharsets.UTF_8);
    }
}
