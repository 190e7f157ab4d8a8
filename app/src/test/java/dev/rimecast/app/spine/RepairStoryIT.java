package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.simulator.fault.FaultPlan;
import dev.rimecast.simulator.fleet.ChannelSet;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.Model;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.fleet.SitePlan;
import dev.rimecast.simulator.gateway.SimulatedGateways;
import dev.rimecast.simulator.place.Climate;
import dev.rimecast.simulator.place.SiteKind;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Site;
import dev.rimecast.telemetry.senml.SenmlCborEncoder;
import dev.rimecast.telemetry.senml.SenmlJsonEncoder;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * One story from end to end on the real server, with a simulated machine that publishes over real MQTT: a condenser gets
 * dirty, the firm is warned, a visit is planned and accepted, the engineer writes down what was done, the visit is over, and
 * the machine's own cycles say that the repair has held. The pages of each step have browser tests of their own.
 */
class RepairStoryIT {
    private static final String MACHINE = "harbour-1";
    private static final Instant FROM = Instant.parse("2026-05-01T00:00:00Z");
    private static final Instant WARNED = Instant.parse("2026-05-21T18:00:00Z");
    private static final Instant WORKED = Instant.parse("2026-05-22T10:00:00Z");
    private static final Duration STEP = Duration.ofMinutes(30);
    private static final Duration LIMIT = Duration.ofSeconds(90);
    private static final String REPORT = "0b9c3f1e-6f0c-4a55-9d5b-7a1d6c1f2e10";

    @TempDir
    Path directory;

    private volatile Instant now = FROM;

    private static FleetPlan plan() {
        SitePlan site = new SitePlan(
                Site.basic("harbour"),
                SiteKind.BAR,
                new Climate(4, 0),
                List.of(Model.CUBE_50.machine(MACHINE, "harbour", "gw-harbour", ChannelSet.FULL, 0.6)),
                List.of());
        FaultPlan dirt = FaultPlan.growing(
                        MACHINE, Cause.AIRFLOW_RESTRICTED, WARNED.minus(Duration.ofDays(6)), Duration.ofDays(7), 0.55)
                .mendedAt(WORKED);
        return new FleetPlan(
                11,
                FROM,
                WORKED.plus(Duration.ofDays(2)),
                Duration.ofSeconds(60),
                List.of(site),
                List.of(dirt),
                List.of(),
                List.of());
    }

    private Server start(SimulatedFleet fleet) throws Exception {
        Path machines = directory.resolve("machines.csv");
        Path sites = directory.resolve("sites.csv");
        MachinesFile.write(machines, fleet.register().machines());
        SitesFile.write(sites, fleet.register().sites());
        return Server.start(
                new ServerSettings(
                        directory.resolve("data"),
                        dev.rimecast.app.server.Role.all(),
                        new ServerSettings.Address("127.0.0.1", 0),
                        new ServerSettings.Mqtt(new ServerSettings.Address("127.0.0.1", 0), 0),
                        Optional.empty(),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        new ServerSettings.Files(Optional.of(machines), Optional.of(sites), Optional.empty())),
                () -> now,
                Optional::empty,
                failure -> {});
    }

    @Test
    void dirtyCondenser_warningVisitWorkAndProof() throws Exception {
        SimulatedFleet fleet = new SimulatedFleet(plan());
        try (Server server = start(fleet);
                SimulatedGateways gateways = new SimulatedGateways(
                        fleet,
                        "tcp://127.0.0.1:" + server.mqttPort(),
                        "b1",
                        SenmlJsonEncoder::encode,
                        SenmlCborEncoder::encode,
                        // What the simulator would write down is written by the story's engineer.
                        (site, event) -> {})) {
            gateways.start();
            Http manager = Http.of(server, "Maya", Role.MANAGER);
            Http engineer = Http.of(server, "Pim", Role.ENGINEER);

            live(gateways, server, WARNED);
            JsonNode alert = warned(manager);
            String visit = visitAccepted(manager);
            live(gateways, server, WORKED.plus(STEP));
            written(engineer, visit, alert.path("caseId").asString());
            live(gateways, server, WORKED.plus(Duration.ofHours(24)));
            held(engineer);
            settled(manager, visit);
        }
    }

    private void live(SimulatedGateways gateways, Server server, Instant until) throws Exception {
        while (now.isBefore(until)) {
            now = now.plus(STEP);
            gateways.publishUntil(now).get(60, TimeUnit.SECONDS);
        }
        await().atMost(LIMIT).until(() -> server.analytics().lagRecords() == 0);
    }

    private static JsonNode get(Http who, String path) {
        return JsonMapper.shared().readTree(who.get(path));
    }

    private static JsonNode warned(Http manager) {
        await().atMost(LIMIT).until(() -> !get(manager, "/api/v1/alerts").isEmpty());
        JsonNode summary = get(manager, "/api/v1/alerts")
                .valueStream()
                .filter(each -> each.path("condition").asString().equals("rising-condensing-temperature"))
                .findFirst()
                .orElseThrow();
        JsonNode alert = get(manager, "/api/v1/alerts/" + summary.path("id").asString());
        assertThat(alert.path("diagnosis").path(0).path("cause").asString()).isEqualTo("airflow-restricted");
        assertThat(alert.path("advice").path("siteChecks")).isNotEmpty();
        assertThat(alert.path("advice").path("cautions")).isNotEmpty();
        assertThat(summary.path("stage").asString()).as("before it stops").isEqualTo("early");
        return summary;
    }

    private static String visitAccepted(Http manager) {
        JsonNode planned = JsonMapper.shared().readTree(manager.post("/api/v1/visits/plan", "{}"));
        assertThat(planned.path("visits")).as(planned.toString()).hasSize(1);
        JsonNode visit = planned.path("visits").path(0);
        assertThat(visit.path("state").asString()).isEqualTo("proposed");
        assertThat(visit.path("needs").path(0).path("machines").path(0).asString())
                .isEqualTo(MACHINE);
        String id = visit.path("id").asString();
        manager.post(
                "/api/v1/visits/" + id + "/accept",
                "{\"sequence\":" + visit.path("sequence").asInt() + ",\"note\":\"Key at the bar.\"}");
        return id;
    }

    /** Sent twice, as a phone does that has lost the answer. */
    private static void written(Http engineer, String visit, String caseId) {
        String path = "/api/v1/machines/" + MACHINE + "/work-reports";
        String report = """
                {"id":"%s","time":"%s","found":"airflow-restricted","origin":"site",\
                "done":[{"what":"air-filter-washed"}],"charge":"chargeable","job":"J-12","by":"Pim","visit":"%s"%s}""".formatted(REPORT, WORKED, visit, caseId.isEmpty() ? "" : ",\"caseId\":\"" + caseId + '"');
        engineer.post(path, report);
        engineer.post(path, report);

        assertThat(get(engineer, path)).hasSize(1);
    }

    private static void held(Http engineer) {
        String path = "/api/v1/machines/" + MACHINE + "/proofs";
        await().atMost(LIMIT)
                .untilAsserted(() -> assertThat(get(engineer, path).toString()).contains("\"ten-cycles\""));
        assertThat(get(engineer, path)).as("one job, one proof").hasSize(1);
        JsonNode proof = get(engineer, path).path(0);
        assertThat(proof.path("workedAt").asString()).startsWith("2026-05-22T10:00:00");
        assertThat(proof.path("cause").asString()).isEqualTo("airflow-restricted");
        assertThat(proof.path("about").valueStream().map(JsonNode::asString)).contains("rising-condensing-temperature");
        assertThat(proof.path("verdict").asString()).isEqualTo("held");
        assertThat(proof.path("looks")
                        .valueStream()
                        .map(look -> look.path("verdict").asString()))
                .containsExactly("held-so-far", "held");
    }

    private static void settled(Http manager, String visit) {
        await().atMost(LIMIT)
                .until(() -> get(manager, "/api/v1/visits/" + visit)
                        .path("state")
                        .asString()
                        .equals("done"));
        await().atMost(LIMIT)
                .until(() -> get(manager, "/api/v1/alerts")
                        .valueStream()
                        .noneMatch(alert -> alert.path("condition").asString().equals("rising-condensing-temperature")
                                && !alert.has("clearedAt")));
        assertThat(manager.get("/api/v1/outcomes.csv")).contains(MACHINE + ",airflow-restricted");
    }
}
