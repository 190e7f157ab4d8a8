package dev.rimecast.simulator.gateway;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SimulatedSite;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlCborEncoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Simulated gateways against a real broker. */
class SimulatedGatewaysIT {
    private static final Instant START = Instant.parse("2026-05-04T00:00:00Z");
    private static final Duration STEP = Duration.ofMinutes(30);

    @TempDir
    Path directory;

    private Mosquitto broker;

    @BeforeEach
    void startBroker() throws Exception {
        broker = Mosquitto.start(directory);
    }

    @AfterEach
    void stopBroker() {
        if (broker != null) {
            broker.close();
        }
    }

    @Test
    void publishUntil_stepByStep_bringsEveryReadingInNumberedPacks() throws Exception {
        FleetPlan plan = plan(List.of());
        try (Listener listener = new Listener(broker.uri())) {
            SimulatedGateways gateways = gateways(plan);
            gateways.start();
            for (int step = 1; step <= 8; step++) {
                gateways.publishUntil(START.plus(STEP.multipliedBy(step))).get(60, TimeUnit.SECONDS);
            }
            Instant end = START.plus(STEP.multipliedBy(8));
            for (String site : List.of("a", "b")) {
                List<Reading> expected = expected(plan, site, end);
                await().untilAsserted(() ->
                        assertThat(listener.readings("gw-" + site)).isEqualTo(expected));
                assertThat(listener.presence.get("gw-" + site)).containsExactly("online");
            }
            assertThat(listener.packs).allSatisfy(pack -> {
                assertThat(pack.boot()).isEqualTo("boot-1");
                assertThat(pack.readings()).hasSizeLessThanOrEqualTo(450);
                assertThat(pack.bytes()).isLessThan(200 * 1024);
            });
            assertThat(listener.packs.stream().filter(pack -> pack.gateway().equals("gw-a")))
                    .extracting(Listener.Heard::seq)
                    .isSorted()
                    .startsWith(1L, 2L);
            gateways.close();
            await().untilAsserted(
                            () -> assertThat(listener.presence.get("gw-a")).containsExactly("online", "offline"));
        }
    }

    @Test
    void publishUntil_moreThanTheBrokersReceiveMaximumAtOnce_completes() throws Exception {
        FleetPlan plan = plan(List.of());
        try (Listener listener = new Listener(broker.uri());
                SimulatedGateways gateways = gateways(plan)) {
            gateways.start();
            Instant end = START.plus(Duration.ofDays(2));
            gateways.publishUntil(end).get(60, TimeUnit.SECONDS);
            List<Reading> expected = expected(plan, "a", end);
            // The broker's default is 20 messages under way: two days are more than three times that.
            assertThat(expected.size() / 450).isGreaterThan(60);
            await().untilAsserted(() -> assertThat(listener.readings("gw-a")).isEqualTo(expected));
            // Without a break: it kept to the broker's limit.
            assertThat(listener.presence.get("gw-a")).containsExactly("online");
        }
    }

    @Test
    void publishUntil_whileTheBrokerIsAway_completesWhenItIsBack() throws Exception {
        FleetPlan plan = plan(List.of());
        try (SimulatedGateways gateways = gateways(plan)) {
            gateways.start();
            gateways.publishUntil(START.plus(STEP)).get(60, TimeUnit.SECONDS);
            broker.stop();
            CompletableFuture<Void> receipts = gateways.publishUntil(START.plus(STEP.multipliedBy(4)));
            assertThat(receipts).isNotDone();
            broker.restart();
            try (Listener listener = new Listener(broker.uri())) {
                receipts.get(60, TimeUnit.SECONDS);
                gateways.publishUntil(START.plus(STEP.multipliedBy(5))).get(60, TimeUnit.SECONDS);
                await().untilAsserted(
                                () -> assertThat(listener.presence.get("gw-b")).contains("online"));
            }
        }
    }

    @Test
    void outage_ofThePlan_isAnOfflineByTheWillAndLosesNothing() throws Exception {
        FleetPlan.Outage outage =
                new FleetPlan.Outage("gw-b", START.plus(STEP.multipliedBy(2)), START.plus(STEP.multipliedBy(5)));
        FleetPlan plan = plan(List.of(outage));
        try (Listener listener = new Listener(broker.uri());
                SimulatedGateways gateways = gateways(plan)) {
            gateways.start();
            for (int step = 1; step <= 4; step++) {
                gateways.publishUntil(START.plus(STEP.multipliedBy(step))).get(60, TimeUnit.SECONDS);
            }
            await().untilAsserted(
                            () -> assertThat(listener.presence.get("gw-b")).containsExactly("online", "offline"));
            assertThat(listener.readings("gw-b"))
                    .allSatisfy(reading -> assertThat(reading.timeMillis())
                            .isLessThanOrEqualTo(outage.from().toEpochMilli()));
            Instant end = START.plus(STEP.multipliedBy(8));
            gateways.publishUntil(end).get(60, TimeUnit.SECONDS);
            await().untilAsserted(() -> assertThat(listener.readings("gw-b")).isEqualTo(expected(plan, "b", end)));
            assertThat(listener.presence.get("gw-b")).containsExactly("online", "offline", "online");
        }
    }

    private SimulatedGateways gateways(FleetPlan plan) {
        return new SimulatedGateways(
                new SimulatedFleet(plan),
                gateway -> GatewayLine.inTheClear(broker.uri()),
                "boot-1",
                SenmlJsonEncoder::encode,
                SenmlCborEncoder::encode,
                (site, event) -> {});
    }

    private static List<Reading> expected(FleetPlan plan, String site, Instant end) {
        for (SimulatedSite candidate : new SimulatedFleet(plan).sites()) {
            if (candidate.site().id().equals(site)) {
                return candidate.advanceTo(end).readings();
            }
        }
        throw new IllegalArgumentException("no site " + site);
    }

    private static FleetPlan plan(List<FleetPlan.Outage> outages) {
        return new FleetPlan(
                11,
                START,
                START.plus(Duration.ofDays(3)),
                Duration.ofSeconds(30),
                List.of(site("a"), site("b")),
                List.of(),
                List.of(),
                outages);
    }

    private static SitePlan site(String id) {
        return new SitePlan(
                Site.basic(id),
                SiteKind.WARD,
                Climate.RECORDED,
                List.of(
                        Model.CUBE_50.machine(id + "-1", id, "gw-" + id, ChannelSet.FULL, 0.6),
                        Model.CUBE_25.machine(id + "-2", id, "gw-" + id, ChannelSet.TEMPERATURES_AND_PHASE, 0.6)),
                List.of());
    }
}
