package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.app.faults.Aftermath;
import dev.rimecast.app.faults.ServeProcess;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.ingest.broker.BrokerSettings;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.io.TempDir;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * Somebody who is another gateway, another site or another firm's account tries to speak for the harbour, on every way in. After each
 * try the harbour's log, what analytics keeps of it, and what the database says of its alerts are what they were, byte for byte. That
 * this would notice a change is what the last test is for, in which the harbour's own gateway speaks.
 */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class SpoofIT {
    private static final Duration LIMIT = Duration.ofSeconds(60);
    private static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    private static final Instant NOW = START.plus(Duration.ofHours(1));
    private static final JsonMapper JSON = JsonMapper.shared();

    /** All that the database knows of the harbour's alerts. */
    private static final List<String> ROWS = List.of(
            "select t::text from alert t where machine = 'harbour-1' order by 1",
            "select t::text from alert_audit t where alert in (select id from alert where machine = 'harbour-1') order by 1",
            "select t::text from case_audit t where t.case_id in"
                    + " (select case_id from alert where machine = 'harbour-1') order by 1",
            "select t::text from alert_hold t order by 1",
            "select t::text from site_link t where t.case_id in"
                    + " (select case_id from alert where machine = 'harbour-1') order by 1");

    /** What is known of the harbour. */
    private record Known(List<String> log, Map<String, String> state, List<String> rows) {}

    @TempDir
    static Path directory;

    private Process broker;
    private int brokerPort;
    private Server server;
    private Http administrator;
    private Http ward;
    private String harbourSecret = "";
    private String wardSecret = "";
    private String harbourAlert = "";
    private String harbourCase = "";
    private String wardLink = "";
    private Optional<Known> before = Optional.empty();

    @BeforeAll
    void start() throws Exception {
        brokerPort = ServeProcess.freePort();
        broker = new ProcessBuilder(OptionalParts.mosquitto().toString(), "-p", Integer.toString(brokerPort))
                .redirectErrorStream(true)
                .redirectOutput(directory.resolve("mosquitto.log").toFile())
                .start();
        Path register = directory.resolve("machines.csv");
        Files.writeString(register, """
                machine,site,gateway,condensing_limit_c
                harbour-1,harbour,gw-harbour,65
                ward-1,ward,gw-ward,65
                """);
        server = Server.start(
                new ServerSettings(
                        directory.resolve("data"),
                        dev.rimecast.app.server.Role.all(),
                        new ServerSettings.Address("127.0.0.1", 0),
                        new ServerSettings.Mqtt(
                                true,
                                new ServerSettings.Address("127.0.0.1", 0),
                                Optional.empty(),
                                0,
                                Optional.of(BrokerSettings.standard(
                                        "mqtt://127.0.0.1:" + brokerPort, "ingest-1", "rimecast", Optional.empty()))),
                        Optional.empty(),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        new ServerSettings.Files(Optional.of(register), Optional.empty(), Optional.empty())),
                () -> NOW,
                Optional::empty,
                failure -> {});
        administrator = Http.of(server);
        ward = Http.of(server, "Wanda", Role.ADMINISTRATOR, SiteScope.of(List.of("ward")));
        harbourSecret = secret("gw-harbour");
        wardSecret = secret("gw-ward");
        await().dontCatchUncaughtExceptions()
                .atMost(LIMIT)
                .until(() -> endpoint("gw-harbour", "").isRefused());
        for (int minute = 0; minute <= 10; minute++) {
            endpoint("gw-harbour", harbourSecret).publish("gw-harbour", hot("harbour-1", minute));
            endpoint("gw-ward", wardSecret).publish("gw-ward", hot("ward-1", minute));
        }
        JsonNode alert = firstAlert("harbour-1");
        harbourAlert = alert.path("id").asString();
        harbourCase =
                alert.path("case").path("id").asString(alert.path("caseId").asString(""));
        JsonNode other = firstAlert("ward-1");
        String wardCase =
                other.path("case").path("id").asString(other.path("caseId").asString(""));
        assertThat(harbourCase).isNotEmpty();
        wardLink = JSON.readTree(administrator.post("/api/v1/cases/" + wardCase + "/site-links", "{}"))
                .path("secret")
                .asString("");
        await().dontCatchUncaughtExceptions()
                .atMost(LIMIT)
                .until(() -> server.analytics().lagRecords() == 0);
        Known[] last = {known()};
        await().dontCatchUncaughtExceptions()
                .atMost(LIMIT)
                .pollInterval(Duration.ofSeconds(1))
                .until(() -> {
                    Known now = known();
                    boolean isStill = now.equals(last[0]) && !now.state().isEmpty();
                    last[0] = now;
                    return isStill;
                });
        assertThat(last[0].log()).hasSizeGreaterThan(10);
        assertThat(last[0].rows()).isNotEmpty();
        before = Optional.of(last[0]);
    }

    @AfterAll
    void stop() {
        if (server != null) {
            server.close();
        }
        if (broker != null) {
            broker.destroyForcibly();
        }
    }

    @AfterEach
    void harbourIsAsItWas() throws Exception {
        if (before.isPresent()) {
            await().dontCatchUncaughtExceptions()
                    .atMost(LIMIT)
                    .until(() -> server.analytics().lagRecords() == 0);
            assertThat(known()).isEqualTo(before.get());
        }
    }

    @Test
    @Order(1)
    void endpoint_withoutAKey_withAnothersKey_andAGuess() {
        assertThat(endpoint("gw-harbour", "").isRefused()).isTrue();
        assertThat(endpoint("gw-harbour", wardSecret).isRefused()).isTrue();
        assertThat(endpoint("gw-harbour", "0".repeat(43)).isRefused()).isTrue();
        MqttConnectionOptions nameless = new MqttConnectionOptions();
        assertThatThrownBy(
                        () -> new MqttWay(server.mqttPort(), "", nameless).publish("gw-harbour", hot("harbour-1", 20)))
                .as("a name in the topic is no key")
                .isInstanceOf(MqttWay.Refused.class);
    }

    @Test
    @Order(2)
    void endpoint_anotherGateway_onTheTopicOfTheHarbour() {
        for (String topic : List.of("fleet/gw-harbour/senml", "fleet/gw-harbour/presence", "fleet/gw-harbour/ack")) {
            assertThatThrownBy(() -> endpoint("gw-ward", wardSecret).send(topic, hot("harbour-1", 21)))
                    .as(topic)
                    .isInstanceOf(MqttWay.Refused.class);
        }
    }

    @Test
    @Order(3)
    void endpoint_anotherGateway_namesTheHarboursMachineInItsOwnPack() throws Exception {
        endpoint("gw-ward", wardSecret).publish("gw-ward", hot("harbour-1", 22));
        endpoint("gw-ward", wardSecret)
                .publish(
                        "gw-ward",
                        hot("harbour-1", 23).replace("[{", "[{\"from\":\"gw-harbour\",\"gateway\":\"gw-harbour\","));
        await().dontCatchUncaughtExceptions().atMost(LIMIT).until(() -> rejected() == 2);
    }

    @Test
    @Order(4)
    void broker_anotherGateway_namesTheHarboursMachine() throws Exception {
        long rejectedBefore = rejected();
        await().dontCatchUncaughtExceptions()
                .atMost(LIMIT)
                .untilAsserted(
                        () -> assertThat(administrator.get("/api/v1/status")).contains("connected to the MQTT broker"));
        MqttWay way = new MqttWay(brokerPort, "anybody", new MqttConnectionOptions());
        way.publish("gw-ward", hot("harbour-1", 24));
        await().dontCatchUncaughtExceptions().atMost(LIMIT).until(() -> rejected() == rejectedBefore + 1);
    }

    @Test
    @Order(5)
    void link_ofAnotherSite_answersForItsOwnCaseOnly() {
        assertThat(wardLink).hasSizeGreaterThan(40);
        for (String more : List.of(
                "\"case\":\"" + harbourCase + "\"",
                "\"machine\":\"harbour-1\"",
                "\"alert\":\"" + harbourAlert + "\",\"site\":\"harbour\"")) {
            HttpResponse<String> answer = administrator.triesWith(
                    Optional.empty(),
                    "/api/v1/site-check/answers",
                    "{\"link\":\"" + wardLink + "\",\"check\":\"air-filter\",\"answer\":\"was-full\"," + more + "}");
            assertThat(answer.body()).doesNotContain("harbour");
        }
        for (String guess : List.of(harbourCase, harbourAlert, "harbour-1", "A".repeat(43))) {
            assertThat(administrator
                            .triesWith(
                                    Optional.empty(),
                                    "/api/v1/site-check/answers",
                                    "{\"link\":\"" + guess + "\",\"check\":\"air-filter\",\"answer\":\"was-full\"}")
                            .statusCode())
                    .isEqualTo(404);
        }
    }

    @Test
    @Order(6)
    void api_anAccountOfAnotherSite_isToldThatNothingIsThere() {
        tryAll((path, body) -> ward.tries(path, body).statusCode(), 404);
    }

    @Test
    @Order(7)
    void api_aTokenOfAnotherSite_aScreensLink_andNobody() {
        String ending = Instant.now().plus(Duration.ofDays(1)).toString();
        String token = token(
                "{\"name\":\"script\",\"role\":\"administrator\",\"sites\":[\"ward\"],\"endsAt\":\"" + ending + "\"}");
        tryAll((path, body) -> ward.triesWith(Optional.of(token), path, body).statusCode(), 404);
        String screen =
                token("{\"name\":\"wall\",\"role\":\"screen\",\"sites\":[\"ward\"],\"endsAt\":\"" + ending + "\"}");
        tryAll((path, body) -> ward.triesWith(Optional.of(screen), path, body).statusCode(), 403);
        tryAll((path, body) -> ward.triesWith(Optional.empty(), path, body).statusCode(), 401);
    }

    @Test
    @Order(8)
    void csv_eventsAndWeatherOfAnotherSite_areRefusedLineByLine() {
        HttpResponse<String> events = ward.tries(
                "/api/v1/events/import",
                "time,machine,event\n" + NOW + ",harbour-1,cleaned\n" + NOW + ",harbour-1,call\n");
        assertThat(events.body()).contains("\"added\":0", "\"refused\":2");
        HttpResponse<String> weather =
                ward.tries("/api/v1/weather", "site,date,max_c\nharbour,2026-03-02,45\nharbour,2026-03-03,45\n");
        assertThat(weather.body()).contains("\"refused\":2");
    }

    @Test
    @Order(9)
    void gatewayItself_changesTheHarbour() throws Exception {
        Known then = before.orElseThrow();
        before = Optional.empty();
        endpoint("gw-harbour", harbourSecret).publish("gw-harbour", hot("harbour-1", 25));
        await().dontCatchUncaughtExceptions().atMost(LIMIT).untilAsserted(() -> {
            Known now = known();
            assertThat(now.log()).hasSize(then.log().size() + 1);
            assertThat(now.state()).isNotEqualTo(then.state());
        });
        administrator.post("/api/v1/alerts/" + harbourAlert + "/notes", "{\"text\":\"seen\"}");
        assertThat(known().rows()).isNotEqualTo(then.rows());
    }

    /** Every change that an alert, a machine or a case can be asked for. */
    private void tryAll(Attempt attempt, int status) {
        String alert = "/api/v1/alerts/" + harbourAlert;
        Map<String, String> bodies = new TreeMap<>();
        for (String step : List.of("/acknowledge", "/reset", "/out-of-service", "/assign", "/part", "/shelve")) {
            bodies.put(
                    alert + step,
                    "{\"version\":1,\"note\":\"n\",\"reason\":\"r\",\"permittedBy\":\"p\",\"until\":\"2026-03-02T00:00:00Z\"}");
        }
        bodies.put(alert + "/notes", "{\"text\":\"t\"}");
        bodies.put(alert + "/answers", "{\"question\":\"air-filter\",\"answer\":\"was-full\"}");
        bodies.put("/api/v1/machines/harbour-1/out-of-service", "{\"reason\":\"r\",\"permittedBy\":\"p\"}");
        bodies.put("/api/v1/machines/harbour-1/events", "{\"event\":\"call\",\"detail\":\"no-ice\"}");
        bodies.put("/api/v1/sites/harbour/events", "{\"event\":\"call\",\"detail\":\"no-ice\"}");
        bodies.put(
                "/api/v1/machines/harbour-1/work-reports",
                "{\"id\":\"7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01\",\"found\":\"scale\",\"done\":[{\"what\":\"descaled\"}]}");
        bodies.put("/api/v1/cases/" + harbourCase + "/close", "{\"reason\":\"r\"}");
        bodies.put("/api/v1/cases/" + harbourCase + "/site-links", "{}");
        bodies.forEach(
                (path, body) -> assertThat(attempt.status(path, body)).as(path).isEqualTo(status));
    }

    private interface Attempt {
        int status(String path, String body);
    }

    private String token(String body) {
        JsonNode made = JSON.readTree(ward.post("/api/v1/tokens", body));
        String secret = made.path("secret").asString("");
        assertThat(secret).as(made.toString()).isNotEmpty();
        return secret;
    }

    private String secret(String gateway) {
        Answer<GatewayDesk.Made> made = server.alerts().gateways().addSecret("Tess", gateway);
        return ((Answer.Done<GatewayDesk.Made>) made).value().secret().orElseThrow();
    }

    private JsonNode firstAlert(String machine) {
        JsonNode[] found = {JSON.createArrayNode()};
        await().dontCatchUncaughtExceptions().atMost(LIMIT).until(() -> {
            found[0] = JSON.readTree(administrator.get("/api/v1/alerts?machine=" + machine));
            return found[0].isArray() && !found[0].isEmpty();
        });
        return found[0].get(0);
    }

    /** Messages of the other gateway that were rejected for the harbour's machine. */
    private long rejected() {
        long messages = 0;
        for (JsonNode each : JSON.readTree(administrator.get("/api/v1/system/rejects"))) {
            if (each.path("sender").asString().equals("gw-ward")
                    && each.path("reasons").toString().contains("machine-of-other-gateway")) {
                messages++;
            }
        }
        return messages;
    }

    private Known known() throws Exception {
        List<String> log = new SiteLogReader(server.kafka())
                .read("harbour").stream().map(Object::toString).toList();
        Map<String, String> state = new TreeMap<>();
        Aftermath.states(server.kafka())
                .getOrDefault("harbour", Map.of())
                .forEach((part, bytes) -> state.put(part, HexFormat.of().formatHex(bytes)));
        List<String> rows = new ArrayList<>();
        Path postgres = directory.resolve("data/postgres");
        String url = "jdbc:postgresql://127.0.0.1:"
                + Files.readAllLines(postgres.resolve("port")).get(0) + "/rimecast";
        String password = Files.readString(postgres.resolve("password"));
        try (Connection connection = DriverManager.getConnection(url, "rimecast", password);
                Statement statement = connection.createStatement()) {
            for (String sql : ROWS) {
                try (ResultSet row = statement.executeQuery(sql)) {
                    while (row.next()) {
                        rows.add(row.getString(1));
                    }
                }
            }
        }
        return new Known(log, state, rows);
    }

    /** A minute of a condenser that is far too hot. */
    private static String hot(String machine, int minute) {
        return "[{\"bn\":\"" + machine + "/\",\"bt\":"
                + START.plus(Duration.ofMinutes(minute)).getEpochSecond()
                + ",\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":-4.5},"
                + "{\"n\":\"condenser_temperature\",\"u\":\"Cel\",\"v\":70.5},"
                + "{\"n\":\"phase\",\"vs\":\"freeze\"}]";
    }

    private MqttWay endpoint(String gateway, String secret) {
        return MqttWay.withSecret(server.mqttPort(), gateway, secret);
    }
}
