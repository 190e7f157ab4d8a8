package dev.rimecast.app.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.dashboard.TrustedProxies;
import dev.rimecast.ingest.broker.BrokerLimits;
import dev.rimecast.ingest.broker.BrokerSettings;
import dev.rimecast.telemetry.yaml.YamlProblem;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.net.InetAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ConfigTest {
    private static ServerSettings read(String text, Map<String, String> environment) {
        return Config.read("my.yaml", text, environment, Path.of(""));
    }

    private static List<String> problems(String text, Map<String, String> environment) {
        YamlProblems problems = catchThrowableOfType(YamlProblems.class, () -> read(text, environment));
        assertThat(problems).as("problems of %s", text).isNotNull();
        return problems.problems().stream().map(YamlProblem::toString).toList();
    }

    @Test
    void read_nothing_givesTheDefaults() {
        ServerSettings settings = read("", Map.of());

        assertThat(settings.http()).isEqualTo(new ServerSettings.Address("127.0.0.1", 8080));
        assertThat(settings.mqtt().listen().port()).isEqualTo(1883);
        assertThat(settings.roles()).isEqualTo(Role.all());
        assertThat(settings.kafka()).isEmpty();
        assertThat(settings.topics().retention()).isEqualTo(Duration.ofDays(30));
    }

    @Test
    void read_ages_areThoseOfTheFile_andNotBelowWhatIsReckonedWith() {
        Retention kept = read("keep:\n  notices: 90d\n", Map.of()).retention();

        assertThat(kept.notices()).isEqualTo(Duration.ofDays(90));
        assertThat(kept.cycles()).isEqualTo(Retention.STANDARD.cycles());
        assertThat(problems("keep:\n  cycles: 30d\n", Map.of()))
                .anySatisfy(p -> assertThat(p).contains("my.yaml:2: keep.cycles"));
    }

    @Test
    void read_environment_winsOverTheFile() {
        ServerSettings settings = read(
                "dashboard:\n  port: 9000\n",
                Map.of("RIMECAST_DASHBOARD_PORT", "9001", "RIMECAST_ROLES", "ingest,analytics"));

        assertThat(settings.http().port()).isEqualTo(9001);
        assertThat(settings.roles()).containsExactlyInAnyOrder(Role.INGEST, Role.ANALYTICS);
    }

    @Test
    void read_trustedProxies_areAddresses_andNoneWithoutTheSetting() throws Exception {
        assertThat(read("", Map.of()).proxies()).isEqualTo(TrustedProxies.NONE);
        assertThat(read("dashboard:\n  trusted-proxies: 127.0.0.1, 192.0.2.1\n", Map.of())
                        .proxies()
                        .addresses())
                .containsExactlyInAnyOrder(InetAddress.getByName("127.0.0.1"), InetAddress.getByName("192.0.2.1"));
        assertThat(problems("dashboard:\n  trusted-proxies: proxy.example\n", Map.of()))
                .singleElement()
                .asString()
                .contains("my.yaml:2: dashboard.trusted-proxies", "'proxy.example' is none");
    }

    @ParameterizedTest
    @CsvSource({
        "'ingest', 8091",
        "'analytics,history', 8092",
        "'history', 8094",
        "'alerts', 8093",
    })
    void read_processWithoutPages_hasAPortOfItsOwnForWhoLooksAfterIt(String roles, int port) {
        ServerSettings.Management management =
                read("", Map.of("RIMECAST_ROLES", roles)).management().orElseThrow();

        assertThat(management.listen()).isEqualTo(new ServerSettings.Address("127.0.0.1", port));
        assertThat(management.isChosen()).isFalse();
        assertThat(management.token()).isEmpty();
    }

    @Test
    void read_processWithPages_hasThatPortOnlyWhereItIsAskedFor() {
        assertThat(read("", Map.of()).management()).isEmpty();
        assertThat(read("management:\n  port: 9100\n", Map.of()).management()).hasValueSatisfying(management -> {
            assertThat(management.listen().port()).isEqualTo(9100);
            assertThat(management.isChosen()).isTrue();
        });
    }

    @Test
    void read_managementForOtherMachines_takesACertificateAndAToken(@TempDir Path directory) throws IOException {
        Path token = Files.writeString(directory.resolve("token"), "t".repeat(32) + "\n");
        Path shortOne = Files.writeString(directory.resolve("short"), "secret-but-short");
        Path pem = Files.writeString(directory.resolve("pem"), "");
        String tls = "  certificate-file: " + pem + "\n  key-file: " + pem + "\n";
        Map<String, String> ingest = Map.of("RIMECAST_ROLES", "ingest");

        assertThat(problems("management:\n  host: 0.0.0.0\n  token-file: " + token, ingest))
                .singleElement()
                .asString()
                .contains("my.yaml:2: management.host", "loopback", "without TLS");
        assertThat(problems("management:\n  host: 0.0.0.0\n" + tls, ingest))
                .singleElement()
                .asString()
                .contains("management.token-file", "is missing", "0.0.0.0");
        assertThat(problems("management:\n  token-file: " + shortOne, ingest))
                .singleElement()
                .asString()
                .contains("my.yaml:2: management.token-file", "32 characters")
                .doesNotContain("secret-but-short");
        assertThat(problems("management:\n  key-file: " + pem, ingest))
                .singleElement()
                .asString()
                .contains("management.certificate-file", "belong together");

        ServerSettings.Management open = read(
                        "management:\n  host: 0.0.0.0\n  token-file: " + token + "\n" + tls, ingest)
                .management()
                .orElseThrow();
        assertThat(open.token()).contains("t".repeat(32));
        assertThat(open.tls()).isPresent();
        assertThat(open).asString().doesNotContain("ttt");
    }

    @Test
    void read_severalMistakes_tellsAllWithPathAndLine() {
        String text = """
                dashboard:
                  prot: 9000
                  port: many
                mqtt:
                  host: 0.0.0.0
                  port: 1883
                  port: 1884
                """;

        assertThat(problems(text, Map.of("RIMECAST_KAFKA_PARTITIONS", "0")))
                .anySatisfy(p -> assertThat(p).contains("my.yaml:2: dashboard.prot", "not a known key", "port"))
                .anySatisfy(p -> assertThat(p).contains("my.yaml:3: dashboard.port", "whole number"))
                .anySatisfy(p -> assertThat(p).contains("mqtt.host", "loopback"))
                .anySatisfy(p -> assertThat(p).contains("my.yaml:7: mqtt.port", "twice"))
                .anySatisfy(p -> assertThat(p).contains("RIMECAST_KAFKA_PARTITIONS"));
    }

    @Test
    void read_broker_isSubscribedToBesideTheEndpointOrInsteadOfIt(@TempDir Path directory) throws IOException {
        Path password = Files.writeString(directory.resolve("password"), "s3cret\n");
        String broker =
                "mqtt-broker:\n  url: mqtts://mqtt.example\n  username: us\n  password-file: " + password + "\n";

        ServerSettings.Mqtt both = read(broker, Map.of()).mqtt();
        assertThat(both.hasEndpoint()).isTrue();
        assertThat(both.broker())
                .contains(BrokerSettings.standard(
                        "mqtts://mqtt.example",
                        "rimecast-ingest-1",
                        "rimecast",
                        Optional.of(new BrokerSettings.Login("us", "s3cret"))));
        assertThat(read("mqtt:\n  endpoint: false\n" + broker, Map.of()).mqtt().hasEndpoint())
                .isFalse();
        assertThat(read(broker, Map.of("RIMECAST_MQTT_BROKER_TRUSTS_TOPICS", "true"))
                        .mqtt()
                        .broker()
                        .orElseThrow()
                        .trustsTopics())
                .isTrue();
        assertThat(limits(broker, Map.of())).isEqualTo(BrokerLimits.STANDARD);
        assertThat(limits(
                        broker,
                        Map.of(
                                "RIMECAST_MQTT_BROKER_PACKS_PER_SECOND", "7",
                                "RIMECAST_MQTT_BROKER_BACKLOG_PACKS", "9000")))
                .isEqualTo(new BrokerLimits(7, 9_000));
        assertThat(limits(broker, Map.of("RIMECAST_MQTT_BROKER_PACKS_PER_SECOND", "0")))
                .isEqualTo(BrokerLimits.none());
    }

    private BrokerLimits limits(String text, Map<String, String> environment) {
        return read(text, environment).mqtt().broker().orElseThrow().limits();
    }

    @Test
    void read_noWayIn_isRefused_unlessThisProcessTakesNothingIn() {
        assertThat(problems("mqtt:\n  endpoint: false\n", Map.of()))
                .singleElement()
                .asString()
                .contains("mqtt.endpoint", "mqtt-broker.url", "could not come in");
        assertThat(read("roles: [analytics]\nmqtt:\n  endpoint: false\n", Map.of())
                        .roles())
                .containsExactly(Role.ANALYTICS);
    }

    @ParameterizedTest
    @CsvSource({
        "tcp://mqtt.example, ingest-1, RIMECAST_MQTT_BROKER_URL, mqtt://host:port",
        "mqtt://mqtt.example, a/b, RIMECAST_MQTT_BROKER_CLIENT_ID, letters",
    })
    void read_wrongBroker_saysWhatItMustBe(String url, String clientId, String where, String what) {
        assertThat(problems("", Map.of("RIMECAST_MQTT_BROKER_URL", url, "RIMECAST_MQTT_BROKER_CLIENT_ID", clientId)))
                .singleElement()
                .asString()
                .contains(where, what);
    }

    @Test
    void read_passwordInTheClear_isRefused_butNotOnThisMachine() {
        assertThat(problems("mqtt-broker:\n  url: mqtt://192.0.2.7\n  username: us\n", Map.of()))
                .singleElement()
                .asString()
                .contains("mqtt-broker.url", "mqtts://");
        assertThat(read("mqtt-broker:\n  url: mqtt://127.0.0.1\n  username: us\n", Map.of())
                        .mqtt()
                        .broker())
                .isPresent();
    }

    @Test
    void read_missingFile_isNamed() {
        assertThat(problems("fleet:\n  register: nowhere.csv\n", Map.of()))
                .singleElement()
                .asString()
                .contains("fleet.register", "nowhere.csv");
    }

    @Test
    void page_isItselfAConfigurationThatChangesNothing() {
        assertThat(read(ConfigPage.text(), Map.of())).isEqualTo(read("", Map.of()));
    }

    @Test
    void page_inTheDocs_isWhatTheCodeSays() throws IOException {
        assertThat(Files.readString(Path.of("../docs/config.yaml"))).isEqualTo(ConfigPage.text());
    }

    @Test
    void read_notices_tellsWhatIsWrongInBothFilesAtOnce(@TempDir Path directory) throws IOException {
        Files.writeString(directory.resolve("notices.yaml"), "receivers:\n  desk: {mial: x}\nquite: 7d\n");
        YamlProblems problems = catchThrowableOfType(
                YamlProblems.class,
                () -> Config.read(
                        "my.yaml", "dashboard:\n  port: many\nnotices:\n  file: notices.yaml\n", Map.of(), directory));
        assertThat(problems.problems())
                .extracting(YamlProblem::toString)
                .anyMatch(p -> p.contains("my.yaml:2: dashboard.port"))
                .anyMatch(p -> p.contains("notices.yaml:2: receivers.desk.mial: is not a known key"))
                .anyMatch(p -> p.contains("notices.yaml:3: quite: is not a known key"));
    }

    /** The example with every key is one that is read. */
    @Test
    void read_exampleOfNotices_isFine(@TempDir Path directory) throws IOException {
        Files.createDirectories(directory.resolve("secrets"));
        Files.writeString(directory.resolve("secrets/mail"), "hush");
        for (String name : List.of("tickets-new", "tickets-old")) {
            Files.writeString(directory.resolve("secrets").resolve(name), "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw");
        }
        Files.copy(Path.of("../docs/notices.yaml"), directory.resolve("notices.yaml"));
        ServerSettings settings = Config.read("my.yaml", "notices:\n  file: notices.yaml\n", Map.of(), directory);
        assertThat(settings.notices().routes()).hasSize(1);
        assertThat(settings.notices().receivers()).hasSize(4);
    }

    @Test
    void tlsOfGateways_isOnOnlyWithCertificateAndKey_andSaysWhichIsMissing(@TempDir Path directory) throws IOException {
        Files.writeString(directory.resolve("mqtt.crt"), "c");
        Files.writeString(directory.resolve("mqtt.key"), "k");
        assertThat(read("mqtt-tls:\n  port: 0\n", Map.of()).mqtt().secure()).isEmpty();
        assertThat(read(
                                "mqtt-tls: {certificate-file: " + directory.resolve("mqtt.crt") + ", key-file: "
                                        + directory.resolve("mqtt.key") + "}",
                                Map.of())
                        .mqtt()
                        .secure()
                        .orElseThrow()
                        .port())
                .isEqualTo(8883);
        assertThatThrownBy(() -> read("mqtt-tls: {certificate-file: " + directory.resolve("mqtt.crt") + "}", Map.of()))
                .hasMessageContaining("mqtt-tls.key-file")
                .hasMessageContaining("belong together");
        assertThatThrownBy(() -> read(
                        "mqtt: {endpoint: false}\nmqtt-broker: {url: \"mqtt://127.0.0.1:1883\"}\nmqtt-tls: {certificate-file: "
                                + directory.resolve("mqtt.crt") + ", key-file: " + directory.resolve("mqtt.key") + "}",
                        Map.of()))
                .hasMessageContaining("mqtt.endpoint")
                .hasMessageContaining("would let nobody in");
    }
}
