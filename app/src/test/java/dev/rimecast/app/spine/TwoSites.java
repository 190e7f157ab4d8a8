package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.analytics.stream.SiteLogReader;
import dev.rimecast.app.config.TestCertificate;
import dev.rimecast.app.faults.Aftermath;
import dev.rimecast.app.faults.ServeProcess;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.ingest.IngestSettings;
import dev.rimecast.ingest.broker.BrokerSettings;
import dev.rimecast.ingest.mqtt.Listen;
import dev.rimecast.simulator.gateway.GatewayLine;
import dev.rimecast.simulator.gateway.GatewayLines;
import java.io.IOException;
import java.net.URI;
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
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * A server with two sites, the harbour and the ward, each with its gateway, an open alert and people of its own; reached in the
 * clear, over TLS and through a broker. The gateway of the ward has a secret and a certificate.
 */
final class TwoSites implements AutoCloseable {
    static final Duration LIMIT = Duration.ofSeconds(60);
    static final Instant START = Instant.parse("2026-03-01T00:00:00Z");
    static final Instant NOW = START.plus(Duration.ofHours(1));
    static final JsonMapper JSON = JsonMapper.shared();

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
    record Known(List<String> log, Map<String, String> state, List<String> rows) {}

    private final Path directory;
    private final Process broker;
    final int brokerPort;
    final Server server;
    final Http administrator;
    final Http ward;
    final String harbourSecret;
    final String wardSecret;
    final String harbourAlert;
    final String harbourCase;
    final String wardLink;
    private final TestCertificate certificate;
    private final TestCertificate wardCertificate;
    private final TestCertificate stranger;
    /** What was known of the harbour when its alert was up and nothing moved any more. */
    final Known before;

    TwoSites(Path directory) throws Exception {
        this.directory = directory;
        certificate = TestCertificate.make(directory, "server");
        wardCertificate = TestCertificate.make(directory, "gw-ward");
        // Anybody can write the name of the harbour's gateway into a certificate.
        stranger = TestCertificate.make(Files.createDirectory(directory.resolve("stranger")), "gw-harbour");
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
                                Optional.of(new IngestSettings.Secure(
                                        "127.0.0.1",
                                        0,
                                        new Listen.Tls(certificate.certificate(), certificate.key(), false))),
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
        assertThat(server.alerts()
                        .gateways()
                        .addCertificate("Tess", "gw-ward", Files.readString(wardCertificate.certificate())))
                .isInstanceOf(Answer.Done.class);
        await().dontCatchUncaughtExceptions()
                .atMost(LIMIT)
                .until(() -> endpoint("gw-harbour", "").isRefused());
        for (int minute = 0; minute <= 10; minute++) {
            endpoint("gw-harbour", harbourSecret).publish("gw-harbour", hot("harbour-1", minute));
            endpoint("gw-ward", wardSecret).publish("gw-ward", hot("ward-1", minute));
        }
        JsonNode alert = firstAlert("harbour-1");
        harbourAlert = alert.path("id").asString();
        harbourCase = caseOf(alert);
        assertThat(harbourCase).isNotEmpty();
        wardLink = JSON.readTree(
                        administrator.post("/api/v1/cases/" + caseOf(firstAlert("ward-1")) + "/site-links", "{}"))
                .path("secret")
                .asString("");
        awaitAnalytics();
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
        before = last[0];
        assertThat(before.log()).hasSizeGreaterThan(10);
        assertThat(before.rows()).isNotEmpty();
    }

    @Override
    public void close() {
        server.close();
        broker.destroyForcibly();
    }

    void awaitAnalytics() {
        await().dontCatchUncaughtExceptions()
                .atMost(LIMIT)
                .until(() -> server.analytics().lagRecords() == 0);
    }

    private static String caseOf(JsonNode alert) {
        return alert.path("case").path("id").asString(alert.path("caseId").asString(""));
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

    /** Messages of the ward's gateway that were rejected for the harbour's machine. */
    long rejected() {
        return rejected("gw-ward", "machine-of-other-gateway");
    }

    /** Messages that were rejected as this sender's, for this reason. */
    long rejected(String sender, String reason) {
        long messages = 0;
        for (JsonNode each : JSON.readTree(administrator.get("/api/v1/system/rejects?limit=100"))) {
            if (each.path("sender").asString().equals(sender)
                    && each.path("reasons").toString().contains(reason)) {
                messages++;
            }
        }
        return messages;
    }

    Known known() throws Exception {
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
    static String hot(String machine, int minute) {
        return "[{\"bn\":\"" + machine + "/\",\"bt\":"
                + START.plus(Duration.ofMinutes(minute)).getEpochSecond()
                + ",\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":-4.5},"
                + "{\"n\":\"condenser_temperature\",\"u\":\"Cel\",\"v\":70.5},"
                + "{\"n\":\"phase\",\"vs\":\"freeze\"}]";
    }

    MqttWay endpoint(String gateway, String secret) {
        return MqttWay.withSecret(server.mqttPort(), gateway, secret);
    }

    /** Over TLS, with the certificate of the ward's gateway. */
    MqttWay wardByCertificate(MqttConnectionOptions options) throws IOException {
        return secure("gw-ward", directory, options);
    }

    /** Over TLS, with a certificate that nobody has registered and that says it is the harbour's. */
    MqttWay strangerByCertificate(MqttConnectionOptions options) throws IOException {
        assertThat(stranger.certificate()).exists();
        return secure("gw-harbour", directory.resolve("stranger"), options);
    }

    private MqttWay secure(String keyOf, Path keys, MqttConnectionOptions options) throws IOException {
        int port = server.mqttPorts().get(1);
        GatewayLine line = new GatewayLines(
                        URI.create("mqtts://localhost:" + port),
                        Optional.of(certificate.certificate()),
                        Optional.of(keys))
                .of(keyOf);
        options.setSocketFactory(line.tls().orElseThrow());
        return new MqttWay(line.serverUri(), keyOf, options);
    }
}
