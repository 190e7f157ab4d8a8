package dev.rimecast.app.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OutsideTest {
    private static final String PASSWORD = "a\"b\\c";

    @TempDir
    Path directory;

    @BeforeEach
    void files() throws IOException {
        Files.writeString(directory.resolve("password"), PASSWORD + "\n");
        Files.writeString(directory.resolve("ca.crt"), "-----BEGIN CERTIFICATE-----\n");
        Files.writeString(directory.resolve("empty"), "\n");
    }

    private ServerSettings read(String text) {
        return Config.read("my.yaml", text, Map.of(), directory);
    }

    private List<String> problems(String text) {
        YamlProblems wrong = catchThrowableOfType(YamlProblems.class, () -> read(text));
        assertThat(wrong).isNotNull();
        return wrong.problems().stream().map(Object::toString).toList();
    }

    @Test
    void kafka_withNothingSaid_isSpokenToInTheClear_asBefore() {
        assertThat(read("kafka:\n  bootstrap-servers: kafka.example:9092\n")
                        .kafka()
                        .orElseThrow())
                .containsEntry("bootstrap.servers", "kafka.example:9092")
                .containsEntry("security.protocol", "PLAINTEXT");
    }

    @Test
    void kafka_saslOverTls_isWhatItsClientsNeed_andNoTextOfTheSettingsHasTheSecret() {
        ServerSettings settings = read("""
                kafka:
                  bootstrap-servers: kafka.example:9093
                  tls: true
                  ca-file: ca.crt
                  sasl: scram-sha-512
                  username: us
                  password-file: password
                """);
        assertThat(settings.kafka().orElseThrow())
                .containsEntry("security.protocol", "SASL_SSL")
                .containsEntry("sasl.mechanism", "SCRAM-SHA-512")
                .containsEntry("ssl.endpoint.identification.algorithm", "https")
                .containsEntry(
                        "sasl.jaas.config",
                        "org.apache.kafka.common.security.scram.ScramLoginModule required username=\"us\""
                                + " password=\"a\\\"b\\\\c\";");
        assertThat(settings.toString()).doesNotContain(PASSWORD, "a\\\"b");
    }

    @Test
    void kafka_whatDoesNotFit_isSaid() {
        String remote = "kafka:\n  bootstrap-servers: kafka.example:9092\n";
        String login = "  sasl: plain\n  username: us\n  password-file: password\n";
        assertThat(problems(remote + login)).singleElement().asString().contains("kafka.sasl", "kafka.tls: true");
        assertThat(read("kafka:\n  bootstrap-servers: 127.0.0.1:9092\n" + login)
                        .kafka()
                        .orElseThrow())
                .containsEntry("security.protocol", "SASL_PLAINTEXT");
        assertThat(problems(remote + "  username: us\n"))
                .singleElement()
                .asString()
                .contains("kafka.username");
        assertThat(problems(remote + "  tls: true\n  sasl: plain\n  username: us\n"))
                .singleElement()
                .asString()
                .contains("kafka.password-file", "missing");
        assertThat(problems(remote + "  ca-file: ca.crt\n"))
                .singleElement()
                .asString()
                .contains("kafka.ca-file");
        assertThat(problems(remote + "  tls: true\n  certificate-file: ca.crt\n"))
                .singleElement()
                .asString()
                .contains("kafka.key-file", "belong together");
        assertThat(problems(remote + "  tls: true\n  sasl: plain\n  username: us\n  password-file: empty\n"))
                .singleElement()
                .asString()
                .contains("nothing in it");
        assertThat(problems(remote + "  sasl: scram-sha-1\n"))
                .anySatisfy(each -> assertThat(each).contains("scram-sha-512, scram-sha-256, plain"));
    }

    @Test
    void kafka_ofACluster_hasItsCopies_andThisProcessItsName() {
        ServerSettings settings = read("""
                kafka:
                  bootstrap-servers: 127.0.0.1:9092,127.0.0.1:9192
                  replication: 3
                  min-in-sync: 2
                  instance: b
                  standbys: 2
                """);

        assertThat(settings.topics().replication()).isEqualTo((short) 3);
        assertThat(settings.topics().minInSync()).isEqualTo(2);
        assertThat(settings.member()).contains(new ServerSettings.Member("b", 2));
        assertThat(read("").member()).isEmpty();
    }

    @Test
    void kafka_ofACluster_whatDoesNotFit_isSaid() {
        String cluster = "kafka:\n  bootstrap-servers: 127.0.0.1:9092\n";
        assertThat(problems(cluster + "  replication: 1\n  min-in-sync: 2\n"))
                .singleElement()
                .asString()
                .contains("kafka.min-in-sync", "kafka.replication");
        assertThat(problems("kafka:\n  instance: a\n"))
                .singleElement()
                .asString()
                .contains("kafka.bootstrap-servers");
        assertThat(problems(cluster + "  instance: a b\n"))
                .singleElement()
                .asString()
                .contains("kafka.instance", "a b");
    }

    @Test
    void database_tlsAndOwner_areWhatTheDriverNeeds() {
        ServerSettings settings = read("""
                database:
                  url: jdbc:postgresql://db.example/rimecast?connectTimeout=3
                  password-file: password
                  owner: tables
                  owner-password-file: password
                  tls: true
                  ca-file: ca.crt
                """);
        assertThat(settings.database().orElseThrow().jdbcUrl())
                .startsWith("jdbc:postgresql://db.example/rimecast?connectTimeout=3&sslmode=verify-full&sslrootcert=")
                .endsWith("ca.crt");
        assertThat(settings.database().orElseThrow().owner().orElseThrow().user())
                .isEqualTo("tables");
        assertThat(settings.database().orElseThrow().toString()).doesNotContain(PASSWORD);
    }

    @Test
    void database_whatDoesNotFit_isSaid() {
        String url = "database:\n  url: jdbc:postgresql://db.example/rimecast\n";
        assertThat(problems(url + "  tls: true\n")).singleElement().asString().contains("database.ca-file", "missing");
        assertThat(problems(url + "  owner: tables\n"))
                .singleElement()
                .asString()
                .contains("database.owner-password-file");
        assertThat(problems(url + "  owner: rimecast\n  owner-password-file: password\n"))
                .singleElement()
                .asString()
                .contains("another role");
        assertThat(problems("database:\n  url: jdbc:postgresql://db.example/rimecast?user=x&password=y\n"))
                .singleElement()
                .asString()
                .contains("database.password-file");
        assertThat(problems(
                        url.replace("rimecast\n", "rimecast?sslmode=require\n") + "  tls: true\n  ca-file: ca.crt\n"))
                .singleElement()
                .asString()
                .contains("sslmode");
    }

    @Test
    void pages_onEveryAddress_onlyWithACertificate() {
        assertThat(problems("dashboard:\n  host: 0.0.0.0\n"))
                .singleElement()
                .asString()
                .contains("loopback");
        assertThat(problems("dashboard:\n  host: 0.0.0.0\n  certificate-file: ca.crt\n"))
                .anySatisfy(each -> assertThat(each).contains("dashboard.key-file"));
        assertThat(read("dashboard:\n  host: 0.0.0.0\n  certificate-file: ca.crt\n  key-file: ca.crt\n")
                        .pagesTls())
                .isPresent();
    }
}
