package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.simulator.gateway.SimulatedGateway;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The whole process is killed under load, ten times at seeded moments, and started again without help. */
class KillIT {
    private static final long SEED = 20261124;
    private static final int KILLS = 10;
    private static final int MINUTES_A_STEP = 20;
    private static final Duration START_LIMIT = Duration.ofSeconds(60);

    @TempDir
    Path directory;

    @Test
    void kill_tenTimesUnderLoad_losesNothingAndRaisesNothingTwice() throws Exception {
        ToyFleet.writeRegister(directory.resolve("machines.csv"));
        Random random = new Random(SEED);
        int minutes;
        try (ServeProcess serve = ServeProcess.in(directory, "register: machines.csv")) {
            minutes = killUnderLoad(serve, random);
            awaitAlertsAreLevel(serve);
            assertThat(serve.stop(Duration.ofSeconds(15))).as("stops when told").isTrue();
        }

        try (Aftermath after = Aftermath.of(directory.resolve("data"))) {
            assertNothingLost(after, minutes);
            assertFindingsAreThoseOfTheLog(after);
        }
    }

    private int killUnderLoad(ServeProcess serve, Random random) throws Exception {
        ScheduledExecutorService timer = Executors.newScheduledThreadPool(2);
        Map<String, SimulatedGateway> gateways = new LinkedHashMap<>();
        for (String site : ToyFleet.SITES) {
            gateways.put(
                    site,
                    new SimulatedGateway(
                            ToyFleet.gateway(site),
                            "tcp://127.0.0.1:" + serve.mqttPort(),
                            "b1",
                            SenmlJsonEncoder::encode,
                            false,
                            timer));
        }
        gateways.values().forEach(SimulatedGateway::start);
        serve.start();
        int minute = 0;
        CompletableFuture<Void> receipts = CompletableFuture.completedFuture(null);
        for (int kill = 1; kill <= KILLS; kill++) {
            // The first receipts after a start say that it is up; then it runs under load for a seeded while.
            minute = publish(gateways, minute);
            receipts = lastReceipts;
            receipts.get(START_LIMIT.toSeconds(), TimeUnit.SECONDS);
            long until = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(300 + random.nextInt(4_000));
            while (System.nanoTime() < until) {
                minute = publish(gateways, minute);
                lastReceipts.get(START_LIMIT.toSeconds(), TimeUnit.SECONDS);
            }
            minute = publish(gateways, minute);
            if (kill % 3 == 0) {
                serve.killWithDatabase();
            } else {
                serve.kill();
            }
            serve.start();
        }
        minute = publish(gateways, minute);
        lastReceipts.get(START_LIMIT.toSeconds(), TimeUnit.SECONDS);
        gateways.values().forEach(SimulatedGateway::close);
        timer.shutdownNow();
        return minute;
    }

    private CompletableFuture<Void> lastReceipts = CompletableFuture.completedFuture(null);

    private int publish(Map<String, SimulatedGateway> gateways, int minute) {
        int next = minute + MINUTES_A_STEP;
        lastReceipts = CompletableFuture.allOf(gateways.entrySet().stream()
                .map(entry -> entry.getValue().publish(ToyFleet.readings(entry.getKey(), minute, next)))
                .toArray(CompletableFuture[]::new));
        return next;
    }

    /** Level when everything stored is decided on, every decision can be seen, and the alerts stand still. */
    private static void awaitAlertsAreLevel(ServeProcess serve) throws Exception {
        await().atMost(START_LIMIT).until(() -> serve.output().contains("/set-up#"));
        Http http = Http.setUp(serve.httpPort(), serve.output());
        try (Backlog backlog = Backlog.of(serve.data())) {
            String[] before = {""};
            await().atMost(Duration.ofSeconds(150))
                    .pollInterval(Duration.ofSeconds(2))
                    .untilAsserted(() -> {
                        assertThat(backlog.lines("rimecast-analytics", Topics.SITES, Topics.FINDINGS))
                                .as("transactions that Kafka knows: %s", backlog.transactions())
                                .isEmpty();
                        String last = before[0];
                        before[0] = http.get("/api/v1/alerts?open=false&limit=1000");
                        assertThat(before[0]).startsWith("[");
                        assertThat(before[0].equals(last))
                                .as("alerts stand still")
                                .isTrue();
                    });
        }
    }

    private static void assertNothingLost(Aftermath after, int minutes) {
        for (String site : ToyFleet.SITES) {
            Set<Reading> stored = new HashSet<>(after.readings(site));
            List<Reading> sent = ToyFleet.readings(site, 0, minutes);
            assertThat(sent.stream().filter(reading -> !stored.contains(reading)))
                    .as(
                            "acknowledged readings that are not in the log of %s, of %s sent, seed %s",
                            site, sent.size(), SEED)
                    .isEmpty();
        }
    }

    private static void assertFindingsAreThoseOfTheLog(Aftermath after) {
        List<Finding> live = after.findings();
        List<Finding> oracle = ToyFleet.SITES.stream()
                .flatMap(site -> after.findingsOfTheLog(site).stream())
                .toList();
        assertThat(live.stream().map(f -> f.id() + "/" + f.revision()))
                .as("every revision once, seed %s", SEED)
                .doesNotHaveDuplicates();
        assertThat(live).as("seed %s", SEED).containsExactlyInAnyOrderElementsOf(oracle);
        Set<UUID> raised = oracle.stream().map(Finding::id).collect(Collectors.toSet());
        assertThat(raised).as("the load raises alerts").hasSizeGreaterThan(20);
        assertThat(after.alerts().stream()
                        .map((AlertView alert) -> alert.finding().id()))
                .as("alerts of the database, seed %s", SEED)
                .containsExactlyInAnyOrderElementsOf(raised);
    }
}
