package dev.rimecast.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** What is shipped or shown has no password in it: settings, containers, samples, documentation, resources, and the program itself. */
class NoDefaultPasswordTest {
    private static final Path ROOT = Path.of("..");

    /** A name of a secret that is given a value in one line, as YAML, properties, environment, SQL and shells write it. */
    private static final Pattern GIVEN = Pattern.compile(
            "(?i)(?:password|passwd|passphrase|secret|api[_-]?key|token)[\"']?[ \\t]*[:=][ \\t]*[\"']?([A-Za-z0-9!@#%^&+_.-]{3,})");

    private static final Pattern WELL_KNOWN = Pattern.compile(
            "(?i)\\b(changeme|change-me|change_me|admin/admin|root/root|hunter2|letmein|p4ssw0rd|password123|postgres:postgres)\\b");

    private static final Pattern PRIVATE_KEY =
            Pattern.compile("-----BEGIN (?:[A-Z]+ )*PRIVATE KEY-----\\s*\\n[A-Za-z0-9+/=]{16}");

    /** Of requests, with examples of what people send: no setting comes from there. */
    private static final String API = "openapi.yaml";

    /** Values that are no secrets: kinds and names of things. */
    private static final Pattern NO_SECRET = Pattern.compile(
            "(?i)string|object|true|false|null|required|optional|none|writeOnly|description|type|http|bearer|text|files?|\\.*|[a-z-]*file[a-z-]*|database[a-z-]*|_FILE.*");

    @Test
    void nothingThatIsShipped_hasAPassword() throws IOException {
        List<String> found = new ArrayList<>();
        int files = 0;
        for (Path file : shipped()) {
            files++;
            String text = Files.readString(file);
            if (PRIVATE_KEY.matcher(text).find()) {
                found.add(file + ": a private key");
            }
            Matcher known = WELL_KNOWN.matcher(text);
            if (known.find()) {
                found.add(file + ": " + known.group());
            }
            if (!file.toString().matches(".*\\.(java|md)") && !file.endsWith(API)) {
                for (Matcher given = GIVEN.matcher(text); given.find(); ) {
                    boolean isVariable = given.group().contains(" :'");
                    if (!isVariable && !NO_SECRET.matcher(given.group(1)).matches()) {
                        found.add(file + ": " + given.group());
                    }
                }
            }
        }
        assertThat(found).isEmpty();
        assertThat(files).as("files that were read").isGreaterThan(300);
    }

    /** That it would find one. */
    @Test
    void aPasswordInAComposeFile_wouldBeFound() {
        assertThat(GIVEN.matcher("      POSTGRES_PASSWORD: rimecast").find()).isTrue();
        assertThat(GIVEN.matcher("password=\"s3cret\"").find()).isTrue();
        assertThat(GIVEN.matcher("      POSTGRES_PASSWORD_FILE: /run/secrets/database")
                        .find())
                .isFalse();
    }

    /** Every Kafka asks for a certificate, on both its ports, and every role of the product has one. */
    @Test
    void kafkaOfContainers_letsNobodyInWithoutACertificate() throws IOException {
        for (String each : List.of("docker-compose.yml", "docker-compose.cluster.yml")) {
            String text = Files.readString(ROOT.resolve(each));
            assertThat(text)
                    .as(each)
                    .contains("KAFKA_LISTENER_SECURITY_PROTOCOL_MAP: CLIENT:SSL,CONTROLLER:SSL\n")
                    .contains("KAFKA_SSL_CLIENT_AUTH: required\n")
                    .contains("RIMECAST_KAFKA_TLS: \"true\"\n")
                    .doesNotContain("PLAINTEXT");
            long roles = text.lines()
                    .filter(line -> line.contains("RIMECAST_ROLES:"))
                    .count();
            long keys = text.lines()
                    .filter(line -> line.matches(" *<<: \\*(kafka-keys|settings)"))
                    .count();
            assertThat(keys).as("%s: roles with a key", each).isEqualTo(roles).isPositive();
        }
    }

    /** The broker asks for users, by its own configuration in both files, and ingest is one of them. */
    @Test
    void brokerOfContainers_letsNobodyInWithoutAUser() throws IOException {
        assertThat(Files.readAllLines(ROOT.resolve("deploy/mosquitto.conf")))
                .contains("allow_anonymous false", "use_username_as_clientid true")
                .anyMatch(line -> line.startsWith("password_file "))
                .anyMatch(line -> line.startsWith("acl_file "))
                .filteredOn(line -> line.startsWith("listener "))
                .allMatch(line -> line.endsWith(" 127.0.0.1"))
                .hasSize(1);
        for (String each : List.of("docker-compose.yml", "docker-compose.cluster.yml")) {
            assertThat(Files.readString(ROOT.resolve(each)))
                    .as(each)
                    .contains(
                            "command: [sh, /mosquitto/config/mosquitto.sh]\n",
                            "./deploy/mosquitto.conf:/mosquitto/config/mosquitto.conf:ro\n",
                            "./deploy/mosquitto.acl:/mosquitto/config/mosquitto.acl:ro\n",
                            "RIMECAST_MQTT_BROKER_PASSWORD_FILE: /run/secrets/mqtt-broker\n");
        }
    }

    private static List<Path> shipped() throws IOException {
        List<Path> all = new ArrayList<>();
        for (String each : List.of(
                "docker-compose.yml",
                "docker-compose.cluster.yml",
                "Dockerfile",
                "rimecast",
                "README.md",
                "DEVELOPERS.md",
                "deploy",
                "docs",
                "samples")) {
            all.addAll(below(ROOT.resolve(each)));
        }
        try (Stream<Path> modules = Files.list(ROOT)) {
            for (Path module : modules.filter(path -> Files.exists(path.resolve("pom.xml")))
                    .toList()) {
                all.addAll(below(module.resolve("src/main")));
            }
        }
        return all;
    }

    private static List<Path> below(Path start) throws IOException {
        if (!Files.exists(start)) {
            return List.of();
        }
        try (Stream<Path> files = Files.walk(start)) {
            return files.filter(Files::isRegularFile)
                    .filter(path -> String.valueOf(path.getFileName())
                            .matches(
                                    ".*\\.(ya?ml|properties|xml|md|sql|conf|acl|sh|java|json|csv)|Dockerfile|rimecast"))
                    .toList();
        }
    }
}
