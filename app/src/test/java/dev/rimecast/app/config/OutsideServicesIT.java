package dev.rimecast.app.config;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.app.faults.ServeProcess;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.StartException;
import dev.rimecast.engines.BrokerLogin;
import dev.rimecast.engines.EmbeddedKafka;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.KafkaSettings;
import dev.rimecast.engines.PostgresSettings;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.InstantSource;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A Kafka and a PostgreSQL of somebody else, who asks for TLS and keys; ours is whoever reads this configuration. */
class OutsideServicesIT {
    private static final String USER = "fleet";
    /** What a JAAS text has to quote. */
    private static final String PASSWORD = "quote\" and back\\slash; 4711";

    @TempDir
    static Path directory;

    private static TestCertificate theirs;
    private static TestCertificate ours;
    private static TestCertificate stranger;
    private static EmbeddedKafka kafka;
    private static EmbeddedPostgres postgres;
    private static int saslPort;
    private static int mutualPort;

    @BeforeAll
    static void start() throws Exception {
        theirs = TestCertificate.make(directory, "theirs");
        ours = TestCertificate.make(directory, "ours");
        stranger = TestCertificate.make(directory, "stranger");
        Files.writeString(directory.resolve("password"), PASSWORD + "\n");
        Files.writeString(directory.resolve("wrong"), "another\n");
        kafka = EmbeddedKafka.start(
                directory.resolve("kafka"), new KafkaSettings(false, 16 << 20, 64 << 20, broker(), failure -> {}));
        postgres = EmbeddedPostgres.start(directory.resolve("postgres"), PostgresSettings.STANDARD);
        encrypt(postgres, directory.resolve("postgres"));
        Files.writeString(directory.resolve("db"), postgres.password());
        Files.writeString(directory.resolve("db-owner"), postgres.ownerPassword());
    }

    @AfterAll
    static void stop() {
        if (postgres != null) {
            postgres.close();
        }
        if (kafka != null) {
            kafka.close();
        }
    }

    /** One listener for each way to say who one is. */
    private static Map<String, String> broker() throws IOException {
        int client = ServeProcess.freePort();
        int controller = ServeProcess.freePort();
        saslPort = ServeProcess.freePort();
        mutualPort = ServeProcess.freePort();
        String secret = "username=\"" + USER + "\" password=\""
                + PASSWORD.replace("\\", "\\\\").replace("\"", "\\\"") + "\"";
        String security = "org.apache.kafka.common.security.";
        Map<String, String> config = new HashMap<>();
        config.put(
                "listeners",
                "CLIENT://127.0.0.1:" + client + ",SASL://127.0.0.1:" + saslPort + ",MUTUAL://127.0.0.1:" + mutualPort
                        + ",CONTROLLER://127.0.0.1:" + controller);
        config.put(
                "advertised.listeners",
                "CLIENT://127.0.0.1:" + client + ",SASL://localhost:" + saslPort + ",MUTUAL://localhost:" + mutualPort);
        config.put("controller.quorum.voters", "1@127.0.0.1:" + controller);
        config.put(
                "listener.security.protocol.map",
                "CLIENT:SASL_PLAINTEXT,CONTROLLER:SASL_PLAINTEXT,SASL:SASL_SSL,MUTUAL:SSL");
        config.put("listener.name.sasl.sasl.enabled.mechanisms", "SCRAM-SHA-512,SCRAM-SHA-256,PLAIN");
        for (String scram : new String[] {"scram-sha-512", "scram-sha-256"}) {
            String prefix = "listener.name.sasl." + scram + ".sasl.";
            config.put(prefix + "jaas.config", security + "scram.ScramLoginModule required " + secret + ";");
            config.put(prefix + "server.callback.handler.class", BrokerLogin.class.getName());
        }
        config.put(
                "listener.name.sasl.plain.sasl.jaas.config",
                security + "plain.PlainLoginModule required " + secret + " "
                        + secret.replaceFirst("^.* password", "user_" + USER) + ";");
        config.put("listener.name.mutual.ssl.client.auth", "required");
        config.put("ssl.keystore.type", "PEM");
        config.put("ssl.keystore.certificate.chain", Files.readString(theirs.certificate()));
        config.put("ssl.keystore.key", Files.readString(theirs.key()));
        config.put("ssl.truststore.type", "PEM");
        config.put("ssl.truststore.certificates", Files.readString(ours.certificate()));
        return config;
    }

    private static void encrypt(EmbeddedPostgres server, Path data) throws Exception {
        Path cluster = data.resolve("cluster");
        Files.copy(theirs.certificate(), cluster.resolve("server.crt"));
        Files.copy(theirs.key(), cluster.resolve("server.key"));
        Files.setPosixFilePermissions(cluster.resolve("server.key"), PosixFilePermissions.fromString("rw-------"));
        String keeper = Files.readString(data.resolve("superuser-password")).strip();
        try (Connection connection = DriverManager.getConnection(server.jdbcUrl(), "postgres", keeper);
                Statement statement = connection.createStatement()) {
            statement.execute("ALTER SYSTEM SET ssl = on");
            statement.execute("SELECT pg_reload_conf()");
        }
    }

    private static String sasl(String mechanism, String passwordFile) {
        return """
                kafka:
                  bootstrap-servers: localhost:%d
                  tls: true
                  ca-file: theirs.crt
                  sasl: %s
                  username: %s
                  password-file: %s
                """.formatted(saslPort, mechanism, USER, passwordFile);
    }

    private static String database(String host, String more) {
        String url = postgres.jdbcUrl().replace("127.0.0.1", host);
        return """
                database:
                  url: %s
                  user: rimecast
                  password-file: db
                  owner: rimecast_owner
                  owner-password-file: db-owner
                  tls: true
                """.formatted(url) + more;
    }

    /** Starts what speaks with both. */
    private static Server open(String text) throws IOException {
        String all = "roles: [alerts]\ndata:\n  directory: data\n" + text;
        Path file = Files.writeString(directory.resolve("my.yaml"), all);
        return Server.start(Config.load(file, Map.of()), InstantSource.system(), Optional::empty, failure -> {});
    }

    private static void refused(String text, String... words) {
        assertThatThrownBy(() -> open(text).close())
                .isInstanceOf(StartException.class)
                .satisfies(failure -> {
                    assertThat(failure.getMessage()).contains(words);
                    StringWriter trace = new StringWriter();
                    failure.printStackTrace(new PrintWriter(trace));
                    assertThat(trace.toString()).doesNotContain(PASSWORD, "4711", postgres.password());
                });
    }

    @Test
    void everyWayToSayWhoWeAre_letsUsIn_andTheDatabaseIsSpokenToOverTls() throws Exception {
        for (String mechanism : new String[] {"scram-sha-512", "scram-sha-256", "plain"}) {
            open(sasl(mechanism, "password") + database("localhost", "  ca-file: theirs.crt\n"))
                    .close();
        }
        String mutual = """
                kafka:
                  bootstrap-servers: localhost:%d
                  tls: true
                  ca-file: theirs.crt
                  certificate-file: ours.crt
                  key-file: ours.key
                """.formatted(mutualPort);
        try (Server server = open(mutual + database("localhost", "  ca-file: theirs.crt\n"))) {
            assertThat(server.alerts().health().problems()).isEmpty();
            assertThat(encrypted()).isPositive();
        }
    }

    /** Connections of the application that are encrypted, as the server knows them. */
    private static int encrypted() throws Exception {
        String keeper = Files.readString(directory.resolve("postgres/superuser-password"));
        try (Connection connection = DriverManager.getConnection(postgres.jdbcUrl(), "postgres", keeper);
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("select count(*) from pg_stat_ssl s join pg_stat_activity a"
                        + " using (pid) where s.ssl and a.usename = 'rimecast'")) {
            row.next();
            return row.getInt(1);
        }
    }

    @Test
    void wrongKeysAndCertificates_areSaid_withWhereAndWhatToDo() throws IOException {
        refused(sasl("scram-sha-512", "wrong"), "Kafka at localhost:" + saslPort, "kafka.password-file");
        refused(sasl("plain", "wrong"), "refuses our user", "kafka.username");
        refused(sasl("scram-sha-512", "password").replace("theirs.crt", "stranger.crt"), "kafka.ca-file");
        refused(
                sasl("scram-sha-512", "password").replace("localhost", "127.0.0.1"),
                "must name the host in kafka.bootstrap-servers");
        refused("""
                kafka:
                  bootstrap-servers: localhost:%d
                  tls: true
                  ca-file: theirs.crt
                  certificate-file: stranger.crt
                  key-file: stranger.key
                """.formatted(mutualPort), "kafka.certificate-file");

        String in = sasl("scram-sha-512", "password");
        refused(in + database("localhost", "  ca-file: stranger.crt\n"), "is not trusted", "database.ca-file");
        refused(in + database("127.0.0.1", "  ca-file: theirs.crt\n"), "is not trusted", "database.url");
        refused(
                in + database("localhost", "  ca-file: theirs.crt\n").replace("file: db-owner", "file: wrong"),
                "does not let us in",
                "database.owner");
        refused(
                in + database("localhost", "  ca-file: theirs.crt\n").replace("file: db\n", "file: wrong\n"),
                "does not let us in",
                "database.user");
    }
}
