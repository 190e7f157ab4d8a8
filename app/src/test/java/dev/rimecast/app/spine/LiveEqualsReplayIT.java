package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.replay.Replay;
import dev.rimecast.app.faults.Aftermath;
import dev.rimecast.app.faults.ToyFleet;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.simulator.gateway.SimulatedGateway;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.file.result.CyclesFile;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the whole product decided live, with a restart in the middle, is what replay decides from the same readings. */
class LiveEqualsReplayIT {
    private static final int MINUTES = 1_200;
    private static final int STEP = 10;

    @TempDir
    Path directory;

    private final AtomicReference<Instant> now = new AtomicReference<>(ToyFleet.START);

    @Test
    void replay_ofWhatWasPublished_givesTheLiveCyclesAndAlerts() throws Exception {
        Path register = directory.resolve("machines.csv");
        ToyFleet.writeRegister(register);
        try (Server server = start(register)) {
            publish(server, 0, MINUTES / 2, "b1");
            awaitDecided(server);
        }
        try (Server server = start(register)) {
            publish(server, MINUTES / 2, MINUTES, "b2");
            awaitDecided(server);
            CyclesFile.write(
                    directory.resolve("live-cycles.csv"),
                    Aftermath.values(server.kafka(), Topics.CYCLES, CycleJson::decode));
            AlertsFile.write(
                    directory.resolve("live-alerts.csv"),
                    Aftermath.values(server.kafka(), Topics.FINDINGS, FindingJson::decode));
        }

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

    private void assertSame(String replayed, String live) throws IOException {
        assertThat(Files.readAllLines(directory.resolve(live)))
                .containsExactlyElementsOf(
                        Files.readAllLines(directory.resolve("replayed").resolve(replayed)));
    }

    private Server start(Path register) {
        return Server.start(
                new ServerSettings(
                        directory.resolve("data"),
                        Role.all(),
                        new ServerSettings.Address("127.0.0.1", 0),
                        new ServerSettings.Mqtt(new ServerSettings.Address("127.0.0.1", 0), 0),
                        Optional.empty(),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        new ServerSettings.Files(Optional.of(register), Optional.empty(), Optional.empty())),
                now::get,
                Optional::empty,
                failure -> {});
    }

    private void publish(Server server, int from, int to, String boot) throws Exception {
        ScheduledExecutorService timer = Executors.newScheduledThreadPool(1);
        Map<String, SimulatedGateway> gateways = new LinkedHashMap<>();
        for (String site : ToyFleet.SITES) {
            gateways.put(
                    site,
                    new SimulatedGateway(
                            ToyFleet.gateway(site),
                            "tcp://127.0.0.1:" + server.mqttPort(),
                            boot,
                            SenmlJsonEncoder::encode,
                            false,
                            timer));
        }
        gateways.values().forEach(SimulatedGateway::start);
        for (int minute = from; minute < to; minute += STEP) {
            now.set(ToyFleet.START.plus(Duration.ofMinutes(minute + STEP)));
            for (Map.Entry<String, SimulatedGateway> gateway : gateways.entrySet()) {
                gateway.getValue()
                        .publish(ToyFleet.readings(gateway.getKey(), minute, minute + STEP))
                        .get(30, TimeUnit.SECONDS);
            }
        }
        gateways.values().forEach(SimulatedGateway::close);
        timer.shutdownNow();
    }

    private static void awaitDecided(Server server) {
        int[] before = {-1};
        await().atMost(Duration.ofSeconds(60))
                .pollInterval(Duration.ofSeconds(2))
                .until(() -> {
                    int cycles = Aftermath.values(server.kafka(), Topics.CYCLES, CycleJson::decode)
                            .size();
                    boolean settled = cycles > 0
                            && cycles == before[0]
                            && server.analytics().lagRecords() == 0;
                    before[0] = cycles;
                    return settled;
                });
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
