package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.replay.Replay;
import dev.rimecast.app.bench.ThresholdBench;
import dev.rimecast.app.faults.Aftermath;
import dev.rimecast.app.faults.ToyFleet;
import dev.rimecast.app.faults.ToyServer;
import dev.rimecast.dashboard.bench.Bench;
import dev.rimecast.dashboard.bench.Run;
import dev.rimecast.dashboard.bench.Sheet;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Live;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.fleet.FleetLook;
import dev.rimecast.history.fleet.FleetReport;
import dev.rimecast.history.query.Export;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.View;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.file.result.CyclesFile;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the whole product decided live, with a restart in the middle, is what replay decides from the same readings. */
class LiveEqualsReplayIT {
    private static final int MINUTES = 940;
    private static final Person ANA = new Person("Ana");
    /** With those after the policy was changed. */
    private static final int ALL_MINUTES = 1_140;

    @TempDir
    Path directory;

    @Test
    void replay_ofWhatWasPublished_givesTheLiveCyclesAndAlerts() throws Exception {
        Awaitility.setDefaultTimeout(Duration.ofSeconds(60));
        Path register = directory.resolve("machines.csv");
        ToyFleet.writeRegister(register);
        Path data = directory.resolve("data");
        try (ToyServer toy = new ToyServer(data, register, ToyFleet.START)) {
            toy.publish(0, MINUTES / 2, "b1");
            toy.awaitDecided();
        }
        Instant half = ToyFleet.START.plus(Duration.ofMinutes(MINUTES / 2));
        try (ToyServer toy = new ToyServer(data, register, half)) {
            toy.publish(MINUTES / 2, MINUTES, "b2");
            toy.awaitDecided();
            CyclesFile.write(
                    directory.resolve("live-cycles.csv"),
                    Aftermath.values(toy.server.kafka(), Topics.CYCLES, CycleJson::decode));
            AlertsFile.write(
                    directory.resolve("live-alerts.csv"),
                    Aftermath.values(toy.server.kafka(), Topics.FINDINGS, FindingJson::decode));
            changeThePolicy(toy);
            toy.publish(MINUTES, ALL_MINUTES, "b3");
            toy.awaitDecided();
            CyclesFile.write(
                    directory.resolve("all-cycles.csv"),
                    Aftermath.values(toy.server.kafka(), Topics.CYCLES, CycleJson::decode));
            AlertsFile.write(
                    directory.resolve("all-alerts.csv"),
                    Aftermath.values(toy.server.kafka(), Topics.FINDINGS, FindingJson::decode));
        }

        assertHistoryIsWhatWasLive(data.resolve("history"));

        Replay.Summary summary = Replay.run(
                new Replay.Input(
                        List.of(writeLog()),
                        RegisterFiles.read(register, Optional.empty()),
                        List.of(),
                        List.of(),
                        Policy.standard()),
                directory.resolve("replayed"),
                2);

        assertThat(summary.cycles()).as("cycles of the replay").isGreaterThan(100);
        assertThat(summary.alerts()).as("alerts of the replay").isGreaterThan(5);
        assertSame("cycles.csv", "live-cycles.csv");
        assertSame("alerts.csv", "live-alerts.csv");
    }

    /** As an analyst does, while all runs; returns when it is in every site's log. */
    private void changeThePolicy(ToyServer toy) {
        Map<String, Double> changes = Map.of("limits.condensing_celsius", 38.0);
        try (ThresholdBench bench = ThresholdBench.start(
                toy.server.alerts().policies(),
                toy.server.alerts().marks(),
                Optional.of(directory.resolve("data/history")),
                directory.resolve("trial"),
                () -> ToyFleet.START)) {
            Run asked = done(bench.backTest(changes, 30, ANA));
            await().until(() -> !isOpen(bench.run(asked.id()).orElseThrow()));
            Run answered = bench.run(asked.id()).orElseThrow();
            assertThat(answered.state()).as("%s", answered.problem()).isEqualTo("done");
            Run.BackTest answer = answered.backTest().orElseThrow();
            assertThat(answer.liveSame()).as(answer.live()).isTrue();
            assertThat(answer.differences())
                    .isNotEmpty()
                    .anySatisfy(difference -> assertThat(difference.kind()).isIn("added", "earlier"))
                    .allSatisfy(
                            difference -> assertThat(difference.condition()).isEqualTo("high-condensing-temperature"));

            int trial = done(bench.tryOut(changes, ANA, "are they too hot?")).id();
            await().until(() -> bench.trial(trial).orElseThrow().result().isPresent());
            assertThat(bench.tryOut(changes, ANA, "one more")).isInstanceOf(Bench.Answer.NotPossible.class);
            assertThat(bench.change(1, Map.of("limits.condensing_celsius", 400.0), ANA, "r"))
                    .isInstanceOf(Bench.Answer.Wrong.class);
            assertThat(done(bench.promote(trial, 1, ANA, "condensers are hot"))
                            .version()
                            .changes())
                    .containsExactly(new Sheet.Change(Optional.empty(), "limits.condensing_celsius", 65, 38));
            assertThat(bench.trial(trial).orElseThrow().result())
                    .as("what came of it is kept")
                    .isPresent();
        }
        await().until(() -> Aftermath.values(toy.server.kafka(), Topics.SITES, SiteLogCodec::decode).stream()
                        .filter(record -> record instanceof SiteRecord.PolicyActivated activated
                                && activated.version().equals("firm-2"))
                        .count()
                == ToyFleet.SITES.size());
    }

    private static boolean isOpen(Run run) {
        return run.state().equals("waiting") || run.state().equals("running");
    }

    private static <T> T done(Bench.Answer<T> answer) {
        assertThat(answer).isInstanceOf(Bench.Answer.Done.class);
        return ((Bench.Answer.Done<T>) answer).value();
    }

    /** Over a stop, a start and a change of the policy, from its files alone. */
    private void assertHistoryIsWhatWasLive(Path history) throws IOException {
        try (History past = History.open(history, 128, false)) {
            Path alerts = directory.resolve("history-alerts.csv");
            Export.write(past, View.ALERTS, Export.Part.ALL, alerts);
            assertThat(AlertsFile.read(alerts)).isEqualTo(AlertsFile.read(directory.resolve("all-alerts.csv")));
            Path cycles = directory.resolve("history-cycles.csv");
            Export.write(past, View.CYCLES, Export.Part.ALL, cycles);
            assertThat(CyclesFile.read(cycles)).isEqualTo(CyclesFile.read(directory.resolve("all-cycles.csv")));
            assertThat(Export.write(past, View.READINGS, Export.Part.ALL, directory.resolve("history-log.csv.gz")))
                    .isEqualTo(ALL_MINUTES * 4L);
            assertBacktestIsWhatWasLive(past);
            FleetReport fleet = FleetLook.at(past.duck(), Duration.ofDays(60), Duration.ofDays(14), (done, all) -> {});
            assertThat(fleet.machines()).as("with complete cycles").isPositive();
            assertThat(fleet.until()).isAfter(fleet.fitFrom());
        }
    }

    /** In the order of arrival, with the live policy; with another one it is something else. */
    private static void assertBacktestIsWhatWasLive(History past) {
        Policy early = Policy.parse("version: early\nall:\n  limits:\n    condensing_celsius: 38\n");
        Decided decided = LogRun.run(
                past,
                List.of(new LogRun.Trial("live", Optional.empty()), new LogRun.Trial("early", Optional.of(early))),
                2,
                (done, all) -> {});
        Live live = Live.compare(past, decided.findings().get(0));
        assertThat(live.firstDifference()).isEmpty();
        assertThat(live.same())
                .isGreaterThan(10)
                .isEqualTo(decided.findings().get(0).size());
        assertThat(Live.compare(past, decided.findings().get(1)).isSame()).isFalse();
        assertThat(decided.findings().get(0))
                .as("which policy has decided")
                .extracting(Finding::policyVersion)
                .contains("standard-1", "firm-2");
    }

    private void assertSame(String replayed, String live) throws IOException {
        assertThat(Files.readAllLines(directory.resolve(live)))
                .containsExactlyElementsOf(
                        Files.readAllLines(directory.resolve("replayed").resolve(replayed)));
    }

    private Path writeLog() throws IOException {
        Path file = directory.resolve("telemetry.csv.gz");
        List<Reading> all = new ArrayList<>();
        ToyFleet.SITES.forEach(site -> all.addAll(ToyFleet.readings(site, 0, MINUTES)));
        all.sort(Comparator.comparingLong(Reading::timeMillis));
        try (TelemetryLogWriter log = new TelemetryLogWriter(file, Arrays.asList(Channel.values()))) {
            for (int i = 0; i < all.size(); ) {
                Reading first = all.get(i);
                List<Reading> row = new ArrayList<>();
                while (i < all.size()
                        && all.get(i).timeMillis() == first.timeMillis()
                        && all.get(i).machine().equals(first.machine())) {
                    row.add(all.get(i++));
                }
                log.write(first.machine(), first.timeMillis(), row);
            }
        }
        return file;
    }
}
