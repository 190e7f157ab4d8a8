package dev.rimecast.app.spine;

import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.app.server.LoopbackSettings;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.gateway.GatewayLine;
import dev.rimecast.simulator.gateway.SimulatedGateways;
import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.senml.SenmlCborEncoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;

/**
 * The world of a repair: the real server with a clock of its own, and one simulated machine that publishes over real MQTT.
 * Its condenser gets dirty, the firm can know it from {@link #WARNED} on, and somebody cleans it at {@link #WORKED}.
 */
final class RepairStory implements AutoCloseable {
    static final String MACHINE = "harbour-1";
    static final String MANAGER = "Maya";
    static final Instant WARNED = Instant.parse("2026-05-21T18:00:00Z");
    static final Instant WORKED = Instant.parse("2026-05-22T10:00:00Z");
    static final Duration STEP = Duration.ofMinutes(30);
    static final Duration LIMIT = Duration.ofSeconds(90);
    private static final Instant FROM = Instant.parse("2026-05-01T00:00:00Z");

    private final ServerSettings settings;
    private volatile Server server;
    private final SimulatedGateways gateways;
    private volatile Instant now;

    RepairStory(Path directory) throws Exception {
        this(directory, FROM, WORKED);
    }

    /**
     * @param from when it begins, a week or more before the dirt, which it has for six days before {@link #WARNED}
     * @param cleaned when somebody cleans it, after {@link #WARNED}; from five hours after that on its protection stops the machine
     */
    RepairStory(Path directory, Instant from, Instant cleaned) throws Exception {
        now = from;
        FleetPlan plan = plan(from, cleaned);
        SimulatedFleet fleet = new SimulatedFleet(plan);
        settings = LoopbackSettings.of(directory, plan);
        server = start(settings);
        gateways = new SimulatedGateways(
                fleet,
                gateway -> GatewayLine.inTheClear("tcp://127.0.0.1:" + server.mqttPort()),
                "b1",
                SenmlJsonEncoder::encode,
                SenmlCborEncoder::encode,
                // What the simulator would write down is written by the story's engineer.
                (site, event) -> {});
        gateways.start();
    }

    private static FleetPlan plan(Instant from, Instant cleaned) {
        SitePlan site = new SitePlan(
                Site.basic("harbour"),
                SiteKind.BAR,
                new Climate(4, 0),
                List.of(Model.CUBE_50.machine(MACHINE, "harbour", "gw-harbour", ChannelSet.FULL, 0.6)),
                List.of());
        FaultPlan dirt = FaultPlan.growing(
                        MACHINE, Cause.AIRFLOW_RESTRICTED, WARNED.minus(Duration.ofDays(6)), Duration.ofDays(7), 0.55)
                .mendedAt(cleaned);
        return new FleetPlan(
                11,
                from,
                cleaned.plus(Duration.ofDays(2)),
                Duration.ofSeconds(60),
                List.of(site),
                List.of(dirt),
                List.of(),
                List.of());
    }

    private Server start(ServerSettings with) throws Exception {
        return Server.start(with, () -> now, Optional::empty, failure -> {});
    }

    /** The server ends, and is there again where it was, once {@code meanwhile} is through. */
    void restart(Runnable meanwhile) throws Exception {
        int http = server.httpPort();
        int mqtt = server.mqttPort();
        server.close();
        meanwhile.run();
        server = start(LoopbackSettings.again(settings, http, mqtt));
    }

    /** Lets time pass: the machine publishes, and detection has read all of it when this returns. */
    void live(Instant until) throws Exception {
        while (now.isBefore(until)) {
            now = now.plus(STEP);
            gateways.publishUntil(now).get(60, TimeUnit.SECONDS);
        }
        await().atMost(LIMIT).until(() -> server.analytics().lagRecords() == 0);
    }

    Server server() {
        return server;
    }

    /** The log of the machine's site, from its beginning. */
    List<SiteRecord> log() throws Exception {
        return new SiteLogReader(server.kafka()).read("harbour");
    }

    Http manager() {
        return Http.of(server, MANAGER, Role.MANAGER);
    }

    Http engineer() {
        return Http.of(server, "Pim", Role.ENGINEER);
    }

    Http operator() {
        return Http.of(server, "Olga", Role.OPERATOR);
    }

    Http analyst() {
        return Http.of(server, "Ana", Role.ANALYST);
    }

    @Override
    public void close() throws Exception {
        gateways.close();
        server.close();
    }
}
