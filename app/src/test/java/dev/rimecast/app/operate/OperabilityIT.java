package dev.rimecast.app.operate;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.app.faults.ServeProcess;
import dev.rimecast.app.faults.ToyFleet;
import dev.rimecast.app.faults.ToyServer;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.app.spine.OptionalParts;
import dev.rimecast.ingest.broker.BrokerSettings;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;
import org.junit.jupiter.api.io.TempDir;

/**
 * What whoever runs the product is told: by a server with every role and a fleet that has had alerts, and by a process that runs
 * ingest alone beside it, on the same Kafka, for a broker that is not there.
 */
@TestInstance(Lifecycle.PER_CLASS)
class OperabilityIT {
    private static final Duration LIMIT = Duration.ofSeconds(60);
    private static final int MINUTES = 180;
    private static final String TOKEN = "0123456789abcdef0123456789abcdef";
    private static final String WATCHER = "Ottilie";
    private static final String GUIDE = "../docs/operations.md";

    /** Every key that a label may have; one more is one more reason to ask how many series it makes. */
    private static final Set<String> KEYS = Set.of(
            "stage",
            "state",
            "topic",
            "reason",
            "outcome",
            "priority",
            "channel",
            "level",
            "version",
            "method",
            "route",
            "status",
            "le",
            "pool",
            "area",
            "id",
            "action",
            "cause",
            "gc");

    private static final Pattern UUID = Pattern.compile("[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}");

    /** Labels of Java's memory areas, whose name for them is id. */
    private static final Pattern OF_JAVA = Pattern.compile("jvm_.*");

    @TempDir
    static Path directory;

    private ToyServer toy;
    private Server alone;
    private String cookie = "";
    private String account = "";

    @BeforeAll
    void start() throws Exception {
        Path register = directory.resolve("machines.csv");
        ToyFleet.writeRegister(register);
        toy = new ToyServer(directory.resolve("data"), register, ToyFleet.START);
        var people = toy.server.alerts().people();
        Account watcher = people.accounts().demo(WATCHER, Role.ADMINISTRATOR, SiteScope.EVERY);
        account = watcher.id().toString();
        String session =
                people.signIn().asDemo(watcher.id(), "127.0.0.1", "test").orElseThrow();
        cookie = "rimecast-session-" + toy.server.httpPort() + '=' + session;
        toy.publish(MINUTES, minute -> {});
        toy.awaitDecided();
        // Paths with names of the fleet in them, as pages ask for them.
        for (String path : List.of(
                "machines/harbour-1", "machines/harbour-1/cycles", "sites/ward/events", "alerts", "nothing/gw-ward")) {
            ask("/api/v1/" + path);
        }
        alone = Server.start(ingestAlone(), () -> ToyFleet.START, Optional::empty, failure -> {});
    }

    private ServerSettings ingestAlone() {
        ServerSettings.Address anyPort = new ServerSettings.Address("127.0.0.1", 0);
        BrokerSettings nobody = BrokerSettings.standard(
                "mqtt://127.0.0.1:" + ServeProcess.freePort(), "ingest-alone", "rimecast", Optional.empty());
        return new ServerSettings(
                        directory.resolve("alone"),
                        Set.of(dev.rimecast.app.server.Role.INGEST),
                        anyPort,
                        new ServerSettings.Mqtt(false, anyPort, Optional.empty(), 0, Optional.of(nobody)),
                        Optional.of(toy.server.kafka()),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        ServerSettings.Files.NONE)
                .withManagement(new ServerSettings.Management(anyPort, true, Optional.empty(), Optional.of(TOKEN)));
    }

    @AfterAll
    void stop() {
        if (alone != null) {
            alone.close();
        }
        if (toy != null) {
            toy.close();
        }
    }

    private static HttpResponse<String> ask(String address, String header, String value)
            throws IOException, InterruptedException {
        return HttpClient.newHttpClient()
                .send(
                        HttpRequest.newBuilder(URI.create(address))
                                .header(header, value)
                                .timeout(Duration.ofSeconds(20))
                                .build(),
                        HttpResponse.BodyHandlers.ofString());
    }

    /** At the pages, as somebody who signed in. */
    private HttpResponse<String> ask(String path) throws IOException, InterruptedException {
        return ask("http://127.0.0.1:" + toy.server.httpPort() + path, "Cookie", cookie);
    }

    /** At the process that runs ingest alone, by the token of its file. */
    private HttpResponse<String> askAlone(String path) throws IOException, InterruptedException {
        return ask(
                "http://127.0.0.1:" + alone.managementPort().orElseThrow() + path, "Authorization", "Bearer " + TOKEN);
    }

    private String everything() throws IOException, InterruptedException {
        return ask("/metrics").body();
    }

    @Test
    void labels_haveFewKeys_andNameNoMachineSiteGatewayOrAccount() throws Exception {
        Set<String> forbidden = new TreeSet<>(Set.of(WATCHER, account));
        toy.server.alerts().views().sites().forEach(site -> forbidden.add(site.id()));
        toy.server.alerts().views().fleet().forEach(row -> forbidden.add(row.machine()));
        ToyFleet.SITES.forEach(site -> forbidden.add(ToyFleet.gateway(site)));
        assertThat(forbidden)
                .as("a real fleet")
                .contains("harbour", "ward-2", "gw-ward", account)
                .hasSize(10);

        List<Scrape.Sample> samples = new ArrayList<>(Scrape.of(everything()).samples());
        samples.addAll(Scrape.of(askAlone("/metrics").body()).samples());

        assertThat(samples).hasSizeGreaterThan(200).allSatisfy(sample -> {
            assertThat(KEYS)
                    .as("keys of %s", sample)
                    .containsAll(sample.labels().keySet());
            if (!OF_JAVA.matcher(sample.name()).matches()) {
                assertThat(sample.labels()).as("%s", sample).doesNotContainKeys("id", "area");
            }
            assertThat(sample.labels().values()).as("%s", sample).allSatisfy(value -> {
                assertThat(forbidden).noneMatch(value::contains);
                assertThat(value).doesNotContainPattern(UUID);
            });
        });
    }

    @Test
    void metrics_ofTheRules_areAllTold() throws Exception {
        Set<String> asked = PrometheusFiles.metrics();

        assertThat(asked).hasSizeGreaterThan(25);
        assertThat(Scrape.of(everything()).names()).containsAll(asked);
    }

    @Test
    void metrics_ofTheGuide_areThoseThatAreTold() throws Exception {
        Set<String> told = families(Scrape.of(everything()));
        told.addAll(families(Scrape.of(askAlone("/metrics").body())));
        Set<String> described = new TreeSet<>();
        var row = Pattern.compile("(?m)^\\| `(rimecast_[a-z0-9_]+)").matcher(Files.readString(Path.of(GUIDE)));
        while (row.find()) {
            described.add(row.group(1));
        }

        assertThat(described).isEqualTo(told);
    }

    /** Of ours; what belongs to a histogram under one name. */
    private static Set<String> families(Scrape scrape) {
        Set<String> families = new TreeSet<>();
        scrape.types().keySet().stream()
                .filter(name -> name.startsWith("rimecast_"))
                .map(name -> name.replaceAll("_seconds_max$", "_seconds"))
                .forEach(families::add);
        return families;
    }

    @Test
    void metrics_fitPrometheus() throws Exception {
        Path promtool = OptionalParts.promtool();
        Scrape scrape = Scrape.of(everything());
        assertThat(scrape.types().keySet())
                .allSatisfy(name -> assertThat(scrape.help().get(name))
                        .as("help of %s", name)
                        .isNotBlank());
        Path file = Files.writeString(directory.resolve("scrape.txt"), everything());
        Path said = directory.resolve("promtool.txt");

        Process check = new ProcessBuilder(promtool.toString(), "check", "metrics")
                .redirectInput(file.toFile())
                .redirectErrorStream(true)
                .redirectOutput(said.toFile())
                .start();

        assertThat(check.waitFor(30, TimeUnit.SECONDS)).isTrue();
        assertThat(Files.readString(said)).isEmpty();
        assertThat(check.exitValue()).isZero();
    }

    @Test
    void figures_agreeWithWhatWasSentAndRaised() throws Exception {
        await().atMost(LIMIT).untilAsserted(() -> {
            Scrape scrape = Scrape.of(everything());
            double sent = ToyFleet.SITES.stream()
                    .mapToInt(site -> ToyFleet.readings(site, 0, MINUTES).size())
                    .sum();
            assertThat(scrape.sum("rimecast_ingest_records_received_total", Map.of()))
                    .hasValue(sent);
            assertThat(scrape.sum("rimecast_analytics_readings_total", Map.of()))
                    .hasValue(sent);
            int raised = toy.server
                    .alerts()
                    .views()
                    .alerts(AlertFilter.EVERY, 10_000)
                    .size();
            assertThat(raised).isPositive();
            assertThat(scrape.sum("rimecast_alerts_reading_to_alert_seconds_count", Map.of()))
                    .as("each alert that was raised has its time")
                    .hasValue(raised);
            assertThat(scrape.sum("rimecast_alerts_reading_to_alert_seconds_bucket", Map.of("le", "60.0")))
                    .as("within the minute that the rules ask about")
                    .hasValue(raised);
            assertThat(scrape.sum("rimecast_alerts_lag_records", Map.of())).hasValue(0);
            assertThat(scrape.sum("rimecast_analytics_tasks", Map.of())).hasValue(12);
            assertThat(scrape.sum("rimecast_stage_state", Map.of("state", "up")))
                    .hasValue(4);
            assertThat(scrape.sum("rimecast_alerts_open", Map.of()).orElse(-1)).isNotNegative();
            assertThat(scrape.sum("hikaricp_connections_max", Map.of())).hasValue(12);
        });
    }

    @Test
    void probes_ofAServerThatIsWell_sayYes() throws Exception {
        await().atMost(LIMIT)
                .untilAsserted(() -> assertThat(ask("/readyz"))
                        .returns(200, HttpResponse::statusCode)
                        .returns("{\"ok\":true,\"failing\":[]}", HttpResponse::body));
        assertThat(ask("/livez").statusCode()).isEqualTo(200);
    }

    /** A broker that is away is no reason to start it anew, and one to send it no work. */
    @Test
    void probes_ofIngestAloneWithoutItsBroker_sayLiveAndNotReady() throws Exception {
        assertThat(askAlone("/livez").statusCode()).isEqualTo(200);
        assertThat(askAlone("/readyz"))
                .returns(503, HttpResponse::statusCode)
                .returns("{\"ok\":false,\"failing\":[\"ingest\"]}", HttpResponse::body);
        Scrape scrape = Scrape.of(askAlone("/metrics").body());
        assertThat(scrape.sum("rimecast_ready", Map.of())).hasValue(0);
        assertThat(scrape.sum("rimecast_ingest_broker_connected", Map.of())).hasValue(0);
        assertThat(scrape.sum("rimecast_ingest_register_machines", Map.of())).hasValue(4);
        assertThat(scrape.sum("rimecast_stage_state", Map.of("stage", "ingest", "state", "down")))
                .hasValue(1);
        assertThat(scrape.names()).noneMatch(name -> name.startsWith("rimecast_analytics"));
        assertThat(alone.managementPort().orElseThrow()).isPositive();
    }

    @Test
    void metrics_ofIngestAlone_areForWhoHasTheToken() throws Exception {
        String address = "http://127.0.0.1:" + alone.managementPort().orElseThrow() + "/metrics";

        assertThat(ask(address, "Authorization", "Bearer " + "f".repeat(32)).statusCode())
                .isEqualTo(401);
    }
}
