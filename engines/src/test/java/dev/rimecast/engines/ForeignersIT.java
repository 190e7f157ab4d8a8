package dev.rimecast.engines;

import static java.util.Objects.requireNonNull;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.NetworkInterface;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.errors.SaslAuthenticationException;
import org.apache.kafka.common.serialization.ByteArraySerializer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Somebody with an account on this machine, and none in the data directory. */
class ForeignersIT {
    private static final Duration PATIENCE = Duration.ofSeconds(2);

    @TempDir
    Path directory;

    @Test
    void kafka_isForWhoCanReadItsDirectory() throws Exception {
        Path data = directory.resolve("kafka");
        try (EmbeddedKafka kafka = EmbeddedKafka.start(data, KafkaSettings.standard(failure -> {}))) {
            kafka.createTopics(List.of(new TopicSpec("kept", 1, Map.of())));
            List<String> ports = Files.readAllLines(data.resolve("ports"));
            for (String port : ports) {
                Map<String, Object> nobody = new HashMap<>(Map.of("bootstrap.servers", "127.0.0.1:" + port));
                assertThatThrownBy(() -> topics(nobody))
                        .as("without a password")
                        .isInstanceOf(Exception.class);
                Map<String, Object> guesser = guess(kafka, "0".repeat(48));
                guesser.put("bootstrap.servers", "127.0.0.1:" + port);
                assertThatThrownBy(() -> topics(guesser))
                        .as("with a wrong password")
                        .hasRootCauseInstanceOf(SaslAuthenticationException.class);
            }
            assertThat(writes(Map.of("bootstrap.servers", kafka.bootstrapServers())))
                    .isFalse();
            Map<String, Object> plain = new HashMap<>(kafka.client());
            plain.put("sasl.mechanism", "PLAIN");
            assertThatThrownBy(() -> topics(plain)).as("only SCRAM").isInstanceOf(Exception.class);

            assertThat(topics(new HashMap<>(EmbeddedKafka.clientOf(data)))).contains("kept");
            assertThat(writes(EmbeddedKafka.clientOf(data))).isTrue();
            assertThat(mode(data)).isEqualTo("rwx------");
            assertThat(mode(data.resolve("password"))).isEqualTo("rw-------");
            for (String port : ports) {
                assertThat(addressesThatAnswer(Integer.parseInt(port)))
                        .as("port " + port)
                        .isEmpty();
            }
        }
    }

    @Test
    void directoryWithoutASecret_asOfEarlierVersions_getsOneAndKeepsWhatIsInIt() throws Exception {
        Path data = directory.resolve("kafka");
        KafkaSettings settings = KafkaSettings.standard(failure -> {});
        try (EmbeddedKafka kafka = EmbeddedKafka.start(data, settings)) {
            kafka.createTopics(List.of(new TopicSpec("kept", 1, Map.of())));
            assertThat(writes(kafka.client())).isTrue();
        }
        String former = Files.readString(data.resolve("password"));
        Files.delete(data.resolve("password"));
        Files.setPosixFilePermissions(data, PosixFilePermissions.fromString("rwxr-xr-x"));

        try (EmbeddedKafka kafka = EmbeddedKafka.start(data, settings)) {
            assertThat(topics(kafka.client(Map.of()))).contains("kept");
            assertThat(mode(data)).isEqualTo("rwx------");
            assertThatThrownBy(() -> topics(guess(kafka, former)))
                    .hasRootCauseInstanceOf(SaslAuthenticationException.class);
        }
    }

    @Test
    void directoryWithoutABroker_isNamed() {
        assertThatThrownBy(() -> EmbeddedKafka.clientOf(directory))
                .isInstanceOf(EngineException.class)
                .hasMessageContaining(directory + " has no Kafka of Rimecast in it");
    }

    @Test
    void postgres_applicationOwnsNothing_ownerIsNoSuperuser() throws Exception {
        Path data = directory.resolve("postgres");
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(data, PostgresSettings.STANDARD)) {
            asEarlierVersionsHadIt(postgres, data);
        }
        Files.delete(data.resolve("owner-password"));

        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(data, PostgresSettings.STANDARD)) {
            try (Connection owner =
                    DriverManager.getConnection(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword())) {
                execute(owner, "ALTER TABLE kept ADD COLUMN more int");
                assertThatThrownBy(() -> execute(owner, "CREATE ROLE another"))
                        .hasMessageContaining("permission denied");
                assertThatThrownBy(() -> execute(owner, "COPY kept TO PROGRAM 'cat'"))
                        .hasMessageContaining("permission denied");
            }
            try (Connection application =
                    DriverManager.getConnection(postgres.jdbcUrl(), postgres.user(), postgres.password())) {
                for (String sql : List.of(
                        "SELECT * FROM kept",
                        "CREATE TABLE mine (n int)",
                        "SET ROLE " + postgres.owner(),
                        "SELECT pg_read_file('postgresql.conf')")) {
                    assertThatThrownBy(() -> execute(application, sql))
                            .as(sql)
                            .isInstanceOf(SQLException.class)
                            .hasMessageContaining("permission denied");
                }
                assertThatThrownBy(() -> execute(application, "DROP TABLE kept"))
                        .hasMessageContaining("must be owner");
            }
            for (String user : List.of(postgres.user(), postgres.owner(), "postgres")) {
                for (String password : List.of("", user, "password", "0".repeat(48))) {
                    assertThatThrownBy(() -> DriverManager.getConnection(postgres.jdbcUrl(), user, password))
                            .as("guess for " + user)
                            .isInstanceOf(SQLException.class);
                }
            }
            for (String file : List.of("password", "owner-password", "superuser-password")) {
                assertThat(mode(data.resolve(file))).as(file).isEqualTo("rw-------");
                assertThat(Files.readString(data.resolve("server.log")))
                        .doesNotContain(Files.readString(data.resolve(file)));
            }
            assertThat(mode(data)).isEqualTo("rwx------");
            int port = Integer.parseInt(Files.readAllLines(data.resolve("port")).get(0));
            assertThat(addressesThatAnswer(port)).isEmpty();
        }
    }

    /** Up to 0.1.0 one role had everything. */
    private static void asEarlierVersionsHadIt(EmbeddedPostgres postgres, Path data) throws Exception {
        String keeper = Files.readString(data.resolve("superuser-password")).strip();
        try (Connection connection = DriverManager.getConnection(postgres.jdbcUrl(), "postgres", keeper)) {
            execute(connection, "REASSIGN OWNED BY rimecast_owner TO rimecast");
            execute(connection, "DROP ROLE rimecast_owner");
        }
        try (Connection former =
                DriverManager.getConnection(postgres.jdbcUrl(), postgres.user(), postgres.password())) {
            execute(former, "CREATE TABLE kept AS SELECT 42 AS n");
        }
    }

    private static void execute(Connection connection, String sql) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private static Map<String, Object> guess(EmbeddedKafka kafka, String password) {
        Map<String, Object> guesser = new HashMap<>(kafka.client());
        String jaas = requireNonNull(kafka.client().get("sasl.jaas.config"));
        guesser.put("sasl.jaas.config", jaas.replaceAll("password=\"[^\"]*\"", "password=\"" + password + "\""));
        return guesser;
    }

    private static List<String> topics(Map<String, Object> client) throws Exception {
        Map<String, Object> config = new HashMap<>(client);
        config.put("default.api.timeout.ms", (int) PATIENCE.toMillis());
        config.put("request.timeout.ms", (int) PATIENCE.toMillis());
        try (Admin admin = Admin.create(config)) {
            return List.copyOf(admin.listTopics().names().get(PATIENCE.toSeconds() + 2, TimeUnit.SECONDS));
        }
    }

    private static boolean writes(Map<String, ?> client) throws InterruptedException {
        Map<String, Object> config = new HashMap<>(client);
        config.put("max.block.ms", PATIENCE.toMillis());
        try (KafkaProducer<byte[], byte[]> producer =
                new KafkaProducer<>(config, new ByteArraySerializer(), new ByteArraySerializer())) {
            producer.send(new ProducerRecord<>("kept", new byte[] {1})).get();
            return true;
        } catch (ExecutionException refused) {
            return false;
        }
    }

    private static String mode(Path path) throws Exception {
        return PosixFilePermissions.toString(Files.getPosixFilePermissions(path));
    }

    /** Addresses of this machine, the loopback ones left out, at which somebody answers on a port. */
    private static List<String> addressesThatAnswer(int port) throws Exception {
        List<String> found = new ArrayList<>();
        for (NetworkInterface each : Collections.list(NetworkInterface.getNetworkInterfaces())) {
            for (InetAddress address : Collections.list(each.getInetAddresses())) {
                if (!address.isLoopbackAddress() && answers(address, port)) {
                    found.add(address.getHostAddress());
                }
            }
        }
        return found;
    }

    private static boolean answers(InetAddress address, int port) {
        try (Socket socket = new Socket()) {
            socket.connect(new InetSocketAddress(address, port), 500);
            OutputStream out = socket.getOutputStream();
            out.flush();
            return true;
        } catch (java.io.IOException refused) {
            return false;
        }
    }
}
