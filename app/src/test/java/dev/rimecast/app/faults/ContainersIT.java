package dev.rimecast.app.faults;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.app.spine.OptionalParts;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.DriverManager;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.testcontainers.containers.GenericContainer;
import org.testcontainers.containers.wait.strategy.AbstractWaitStrategy;
import org.testcontainers.containers.wait.strategy.Wait;
import org.testcontainers.containers.wait.strategy.WaitStrategy;
import org.testcontainers.images.RemoteDockerImage;
import org.testcontainers.images.builder.ImageFromDockerfile;
import org.testcontainers.images.builder.Transferable;
import org.testcontainers.utility.DockerImageName;

/**
 * Every part in a container of its own, the product from its own image, Kafka with the keys of deploy/secrets.sh as in the compose files:
 * packs go in at the broker, each container is restarted under load, and the sums are done. Images are the official ones, or those that the variables of docker-compose.yml name. Without
 * a container engine it is skipped; {@code RIMECAST_REQUIRE_DOCKER=true} requires one.
 */
class ContainersIT {
    private static final String PASSWORD = "of-a-test-only";
    private static final int READABLE = 0644;
    private static final Path ROOT = Path.of("..").toAbsolutePath().normalize();

    @TempDir(cleanup = CleanupMode.ON_SUCCESS)
    Path directory;

    private final int mqttPort = ServeProcess.freePort();
    private final int kafkaPort = ServeProcess.freePort();
    private final int controllerPort = ServeProcess.freePort();
    private final int databasePort = ServeProcess.freePort();
    private final int pagesPort = ServeProcess.freePort();
    private final Map<String, GenericContainer<?>> parts = new LinkedHashMap<>();

    @Test
    void everyContainer_restartedUnderLoad_losesNothing_andRaisesOnce() throws Exception {
        OptionalParts.containers();
        Path gateways = directory.resolve("gateways");
        try (Generator generator =
                new Generator(directory.resolve("generator"), "tcp://127.0.0.1:" + mqttPort, Optional.of(gateways))) {
            KafkaKeys keys = KafkaKeys.make(ROOT.resolve("deploy/secrets.sh"), directory.resolve("secrets"));
            BrokerUsers.make(
                    ROOT.resolve("deploy/broker-gateway.sh"), keys.directory(), gateways, BrokerUsers.ofTheLoad());
            start(keys);
            assertThat(keys.refusesStrangers(kafkaPort))
                    .as("Kafka refuses clients without a certificate")
                    .isTrue();
            assertThat(keys.refusesStrangers(controllerPort))
                    .as("Kafka refuses other Kafkas without a certificate")
                    .isTrue();
            generator.start();
            ClusterSums.awaitCovered(generator, 20);
            int live = 0;
            for (String part : List.copyOf(parts.keySet())) {
                generator.hot(live++);
                restart(part);
                ClusterSums.awaitCovered(generator, 0);
            }
            assertThat(generator.drain(ClusterSums.HEAL))
                    .as("everything sent is covered")
                    .isTrue();
            part("ingest").stop();
            ClusterSums sums = new ClusterSums(keys.client("127.0.0.1:" + kafkaPort), this::rows);
            sums.awaitDecided();
            sums.hold("after a restart of each container", Accounts.read(generator.ledger()));
        } finally {
            parts.values().forEach(GenericContainer::stop);
        }
    }

    private void start(KafkaKeys keys) throws IOException {
        Path register = directory.resolve("machines.csv");
        Bench.writeRegister(register);
        Future<String> rimecast = image();
        add("mosquitto", official("MOSQUITTO_IMAGE", "eclipse-mosquitto:2"))
                .withCommand("sh", "/mosquitto/config/mosquitto.sh")
                .withEnv("MQTT_PORT", String.valueOf(mqttPort))
                .withCopyToContainer(shipped("mosquitto.sh"), "/mosquitto/config/mosquitto.sh")
                .withCopyToContainer(shipped("mosquitto.conf"), "/mosquitto/config/mosquitto.conf")
                .withCopyToContainer(shipped("mosquitto.acl"), "/mosquitto/config/mosquitto.acl")
                .withCopyToContainer(text(keys.text("mqtt-broker")), "/run/secrets/mqtt-broker")
                .withCopyToContainer(text(keys.text("mqtt-gateways") + '\n'), "/run/secrets/mqtt-gateways")
                .waitingFor(open(mqttPort));
        add("kafka", official("KAFKA_IMAGE", "apache/kafka:4.4.0"))
                .withEnv(kafka())
                .withCopyToContainer(text(keys.text("kafka.pem")), "/run/secrets/kafka.pem")
                .withCopyToContainer(text(keys.text("kafka-ca.crt")), "/run/secrets/kafka-ca")
                .waitingFor(open(kafkaPort));
        add("postgres", official("POSTGRES_IMAGE", "postgres:18"))
                .withCommand("-c", "listen_addresses=127.0.0.1", "-c", "port=" + databasePort)
                .withEnv("POSTGRES_USER", "postgres")
                .withEnv("POSTGRES_PASSWORD_FILE", "/run/secrets/database-superuser")
                .withEnv("POSTGRES_INITDB_ARGS", "--auth=scram-sha-256")
                .withCopyToContainer(text(PASSWORD), "/run/secrets/database-superuser")
                .withCopyToContainer(text(PASSWORD), "/run/secrets/database-owner")
                .withCopyToContainer(text(PASSWORD), "/run/secrets/database")
                .withCopyToContainer(
                        text(Files.readString(ROOT.resolve("deploy/database-roles.sh"))),
                        "/docker-entrypoint-initdb.d/database-roles.sh")
                .waitingFor(open(databasePort));
        product("ingest", rimecast, "ingest", keys)
                .withEnv("RIMECAST_MQTT_ENDPOINT", "false")
                .withEnv("RIMECAST_MQTT_BROKER_URL", "mqtt://127.0.0.1:" + mqttPort)
                .withEnv("RIMECAST_MQTT_BROKER_USERNAME", "rimecast-ingest-1")
                .withEnv("RIMECAST_MQTT_BROKER_PASSWORD_FILE", "/run/secrets/mqtt-broker")
                .withCopyToContainer(text(keys.text("mqtt-broker")), "/run/secrets/mqtt-broker");
        product("analytics", rimecast, "analytics", keys);
        product("pages", rimecast, "alerts,dashboard", keys)
                .withEnv("RIMECAST_DASHBOARD_PORT", String.valueOf(pagesPort))
                .withEnv("RIMECAST_DATABASE_URL", url())
                .withEnv("RIMECAST_DATABASE_USER", "rimecast")
                .withEnv("RIMECAST_DATABASE_PASSWORD_FILE", "/run/secrets/database")
                .withEnv("RIMECAST_DATABASE_OWNER", "rimecast_owner")
                .withEnv("RIMECAST_DATABASE_OWNER_PASSWORD_FILE", "/run/secrets/database")
                .withEnv("RIMECAST_FLEET_REGISTER", "/fleet/machines.csv")
                .withCopyToContainer(text(PASSWORD), "/run/secrets/database")
                .withCopyToContainer(text(Files.readString(register)), "/fleet/machines.csv");
        parts.values().forEach(GenericContainer::start);
    }

    private Map<String, String> kafka() {
        Map<String, String> settings = new LinkedHashMap<>();
        settings.put("KAFKA_NODE_ID", "1");
        settings.put("KAFKA_PROCESS_ROLES", "broker,controller");
        settings.put(
                "KAFKA_LISTENERS", "CLIENT://127.0.0.1:" + kafkaPort + ",CONTROLLER://127.0.0.1:" + controllerPort);
        settings.put("KAFKA_ADVERTISED_LISTENERS", "CLIENT://127.0.0.1:" + kafkaPort);
        settings.put("KAFKA_CONTROLLER_LISTENER_NAMES", "CONTROLLER");
        settings.put("KAFKA_INTER_BROKER_LISTENER_NAME", "CLIENT");
        settings.put("KAFKA_LISTENER_SECURITY_PROTOCOL_MAP", "CLIENT:SSL,CONTROLLER:SSL");
        settings.put("KAFKA_SSL_CLIENT_AUTH", "required");
        settings.put("KAFKA_SSL_ENABLED_PROTOCOLS", "TLSv1.3");
        settings.put("KAFKA_SSL_KEYSTORE_TYPE", "PEM");
        settings.put("KAFKA_SSL_KEYSTORE_LOCATION", "/run/secrets/kafka.pem");
        settings.put("KAFKA_SSL_TRUSTSTORE_TYPE", "PEM");
        settings.put("KAFKA_SSL_TRUSTSTORE_LOCATION", "/run/secrets/kafka-ca");
        settings.put("KAFKA_CONTROLLER_QUORUM_VOTERS", "1@127.0.0.1:" + controllerPort);
        settings.put("KAFKA_LOG_DIRS", "/var/lib/kafka/data");
        settings.put("KAFKA_OFFSETS_TOPIC_REPLICATION_FACTOR", "1");
        settings.put("KAFKA_TRANSACTION_STATE_LOG_REPLICATION_FACTOR", "1");
        settings.put("KAFKA_TRANSACTION_STATE_LOG_MIN_ISR", "1");
        settings.put("KAFKA_GROUP_INITIAL_REBALANCE_DELAY_MS", "0");
        settings.put("KAFKA_AUTO_CREATE_TOPICS_ENABLE", "false");
        return settings;
    }

    private GenericContainer<?> product(String name, Future<String> image, String roles, KafkaKeys keys)
            throws IOException {
        return add(name, new GenericContainer<>(image))
                .withCommand("serve")
                .withEnv("RIMECAST_JAVA_OPTS", "-Xmx512m")
                .withEnv("RIMECAST_ROLES", roles)
                .withEnv("RIMECAST_KAFKA_BOOTSTRAP_SERVERS", "127.0.0.1:" + kafkaPort)
                .withEnv("RIMECAST_KAFKA_TLS", "true")
                .withEnv("RIMECAST_KAFKA_CA_FILE", "/run/secrets/kafka-ca")
                .withEnv("RIMECAST_KAFKA_CERTIFICATE_FILE", "/run/secrets/rimecast.crt")
                .withEnv("RIMECAST_KAFKA_KEY_FILE", "/run/secrets/rimecast.key")
                .withCopyToContainer(text(keys.text("kafka-ca.crt")), "/run/secrets/kafka-ca")
                .withCopyToContainer(text(keys.text("rimecast.crt")), "/run/secrets/rimecast.crt")
                .withCopyToContainer(text(keys.text("rimecast.key")), "/run/secrets/rimecast.key")
                .waitingFor(Wait.forLogMessage(".*Ctrl-C stops it.*\\n", 1))
                .withStartupTimeout(Duration.ofMinutes(3));
    }

    private GenericContainer<?> add(String name, GenericContainer<?> container) {
        parts.put(name, container.withNetworkMode("host"));
        return container;
    }

    private static GenericContainer<?> official(String variable, String image) {
        return new GenericContainer<>(new RemoteDockerImage(DockerImageName.parse(
                Optional.ofNullable(System.getenv(variable)).orElse(image))));
    }

    /** Built from the Dockerfile and what the build has made, unless a variable names one that is there. */
    private static Future<String> image() {
        String built = System.getenv("RIMECAST_IMAGE");
        if (built != null) {
            return new RemoteDockerImage(DockerImageName.parse(built));
        }
        return new ImageFromDockerfile()
                .withFileFromPath("Dockerfile", ROOT.resolve("Dockerfile"))
                .withFileFromPath("app/target/rimecast.jar", ROOT.resolve("app/target/rimecast.jar"))
                .withFileFromPath("app/target/lib", ROOT.resolve("app/target/lib"))
                .withBuildArg(
                        "JRE_IMAGE",
                        Optional.ofNullable(System.getenv("JRE_IMAGE")).orElse("eclipse-temurin:17-jre"));
    }

    /** A file of the folder deploy. */
    private static Transferable shipped(String name) throws IOException {
        return text(Files.readString(ROOT.resolve("deploy").resolve(name)));
    }

    private static Transferable text(String text) {
        return Transferable.of(text, READABLE);
    }

    private void restart(String name) {
        GenericContainer<?> container = part(name);
        long start = System.nanoTime();
        container
                .getDockerClient()
                .restartContainerCmd(container.getContainerId())
                .withTimeout(30)
                .exec();
        System.out.printf("containers: %s was restarted in %.1f s%n", name, (System.nanoTime() - start) / 1e9);
    }

    private GenericContainer<?> part(String name) {
        return Optional.ofNullable(parts.get(name)).orElseThrow();
    }

    private String url() {
        return "jdbc:postgresql://127.0.0.1:" + databasePort + "/rimecast";
    }

    private List<List<String>> rows(String sql) throws Exception {
        return TextRows.of(DriverManager.getConnection(url(), "rimecast", PASSWORD), sql);
    }

    /** Containers use the host's network, as in docker-compose.yml: their ports are ours. */
    private static WaitStrategy open(int port) {
        return new AbstractWaitStrategy() {
            @Override
            protected void waitUntilReady() {
                await().atMost(Duration.ofMinutes(2)).ignoreExceptions().until(() -> {
                    try (Socket socket = new Socket()) {
                        socket.connect(new InetSocketAddress("127.0.0.1", port), 1_000);
                        return true;
                    }
                });
            }
        };
    }
}
