package dev.rimecast.analytics.stream;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.TopicSpec;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The promise itself, with the product's own monitor: what the stage has written, killed once and closed once on the
 * way, is what one monitor says that is given the site's log as Kafka has it.
 */
class LiveEqualsReplayIT {
    private static final List<String> SITES = List.of("harbour-north", "mill-lane");
    private static final int DAYS = 6;
    private static final int PACK_MINUTES = 10;
    private static final Duration PATIENCE = Duration.ofSeconds(90);

    @TempDir
    Path directory;

    private EmbeddedKafka kafka;
    private CommittedTopic<Cycle> cycles;
    private CommittedTopic<Finding> findings;

    @BeforeEach
    void startKafka() {
        kafka = EmbeddedKafka.start(directory.resolve("kafka"), KafkaSettings.standard(failure -> {}));
        kafka.createTopics(TopicSpec.oneMachine());
        cycles = new CommittedTopic<>(kafka, Topics.CYCLES, CycleJson::decode);
        findings = new CommittedTopic<>(kafka, Topics.FINDINGS, FindingJson::decode);
    }

    @AfterEach
    void stopKafka() {
        cycles.close();
        findings.close();
        kafka.close();
    }

    @Test
    void killedAndClosedOnTheWay_liveIsWhatAPlainMonitorSays() throws Exception {
        writeLogs();
        Map<String, PlainRun> plain = new HashMap<>();
        SiteLogReader reader = new SiteLogReader(kafka.client());
        SITES.forEach(site -> plain.put(site, PlainRun.of(site, reader.read(site), SiteMonitor::accept)));
        int expected =
                plain.values().stream().mapToInt(run -> run.cycles.size()).sum();
        assertThat(plain.values()).allSatisfy(run -> {
            assertThat(run.cycles).hasSizeGreaterThan(2 * (DAYS - 1) * 1440 / FailingFleet.CYCLE_MINUTES);
            assertThat(run.findings).extracting(Finding::step).contains(Finding.Step.RAISED);
        });

        try (ChildJvm killed = startChild()) {
            awaitCycles(expected / 4);
        }
        StageSettings settings = settings();
        try (AnalyticsStage closed = AnalyticsStage.start(settings, new SimpleMeterRegistry(), slow())) {
            awaitCycles(expected / 2);
            await().atMost(PATIENCE).until(() -> closed.health().isRunning());
        }
        assertThat(cycles.countAll()).as("closed before the end").isLessThan(expected);
        try (AnalyticsStage last = AnalyticsStage.start(settings, new SimpleMeterRegistry())) {
            awaitCycles(expected);
            await().atMost(PATIENCE).until(() -> last.lagRecords() == 0);
        }

        cycles.countAll();
        findings.countAll();
        System.out.println("compared " + cycles.count() + " cycles, " + findings.count() + " findings");
        for (String site : SITES) {
            assertThat(cycles.of(site)).as("cycles of %s", site).isEqualTo(plain(plain, site).cycles);
            assertThat(findings.of(site)).as("findings of %s", site).isEqualTo(plain(plain, site).findings);
        }
    }

    private static PlainRun plain(Map<String, PlainRun> plain, String site) {
        return plain.getOrDefault(site, new PlainRun());
    }

    private void writeLogs() throws Exception {
        try (SitesTopic sites = new SitesTopic(kafka)) {
            Map<String, FailingFleet> fleets = new HashMap<>();
            for (String site : SITES) {
                List<String> machines = List.of("ice-1-" + site, "ice-2-" + site);
                machines.forEach(machine -> sites.write(site, SiteLogs.registered(site, machine)));
                fleets.put(site, new FailingFleet(site, machines, site.hashCode()));
            }
            for (int minute = 0; minute < DAYS * 1440; minute += PACK_MINUTES) {
                for (Map.Entry<String, FailingFleet> fleet : fleets.entrySet()) {
                    sites.write(fleet.getKey(), fleet.getValue().pack(minute, PACK_MINUTES));
                }
                sites.tickEverywhere(minute + PACK_MINUTES);
            }
            sites.flush();
        }
    }

    private static MonitorStep slow() {
        return (monitor, entry, out) -> {
            LockSupport.parkNanos(1_000_000);
            monitor.accept(entry, out);
        };
    }

    private ChildJvm startChild() throws Exception {
        return ChildJvm.start(
                StageChild.class,
                directory.resolve("kafka").toString(),
                settings().stateDirectory().toString(),
                "product",
                "1000000");
    }

    private StageSettings settings() {
        return StageSettings.oneMachine(kafka.client(), directory.resolve("streams"));
    }

    private void awaitCycles(int count) {
        await().atMost(PATIENCE).until(() -> cycles.count() >= count);
    }
}
