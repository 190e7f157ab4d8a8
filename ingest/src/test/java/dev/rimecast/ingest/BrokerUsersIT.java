package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.mqtt.Heard;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttException;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.MqttReturnCode;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The broker of docker-compose.yml with its own configuration, users and access list, in a process of Debian's mosquitto: nobody comes in without a
 * secret, and a gateway speaks and hears below its own topic only.
 */
class BrokerUsersIT {
    private static final Path DEPLOY = Path.of("../deploy").toAbsolutePath().normalize();
    private static final String INGEST = "rimecast-ingest-1";
    private static final MqttProperties NONE = new MqttProperties();

    @TempDir
    Path directory;

    private final List<MqttAsyncClient> clients = new ArrayList<>();
    private final List<String> heard = new CopyOnWriteArrayList<>();
    private final Map<String, String> secrets = new HashMap<>();
    private @Nullable MqttAsyncClient ingest;
    private int port;
    private @Nullable Process broker;

    @BeforeEach
    void start() throws Exception {
        Mosquitto.require("mosquitto");
        Mosquitto.require("mosquitto_passwd");
        Path made = directory.resolve("secrets");
        run(Map.of(), DEPLOY.resolve("secrets.sh").toString(), made.toString());
        String users = run(
                Map.of("SECRETS_DIRECTORY", made.toString()),
                DEPLOY.resolve("broker-gateway.sh").toString(),
                "gw-1",
                "gw-2");
        users.lines().map(line -> line.split(" ", -1)).forEach(user -> secrets.put(user[0], user[1]));
        secrets.put(INGEST, Files.readString(made.resolve("mqtt-broker")).strip());
        assertThat(secrets).containsOnlyKeys("gw-1", "gw-2", INGEST);
        assertThat(Files.readString(made.resolve("mqtt-gateways")))
                .as("what is kept")
                .contains("gw-1:$7$", "gw-2:$7$")
                .doesNotContain(secrets.get("gw-1"), secrets.get("gw-2"));
        startBroker(made);
        ingest = connect(INGEST, secrets.get(INGEST));
        listen(ingest, "$share/rimecast/fleet/+/senml");
        listen(ingest, "fleet/+/presence");
    }

    private void startBroker(Path made) throws Exception {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            port = socket.getLocalPort();
        }
        Path data = Files.createDirectories(directory.resolve("data"));
        Path scratch = Files.createDirectories(directory.resolve("scratch"));
        // Started by root it becomes a user of its own.
        for (Path open : List.of(directory, data, scratch)) {
            Files.setPosixFilePermissions(open, PosixFilePermissions.fromString("rwxrwxrwx"));
        }
        Path config = Files.createDirectories(directory.resolve("config"));
        for (String name : List.of("mosquitto.conf", "mosquitto.acl")) {
            Files.copy(DEPLOY.resolve(name), config.resolve(name));
        }
        ProcessBuilder builder =
                new ProcessBuilder("sh", DEPLOY.resolve("mosquitto.sh").toString()).inheritIO();
        builder.environment()
                .putAll(Map.of(
                        "PATH", System.getenv("PATH") + ":/usr/sbin",
                        "SECRETS", made.toString(),
                        "MOSQUITTO_CONFIG", config.toString(),
                        "MOSQUITTO_DATA", data.toString(),
                        "SCRATCH", scratch.toString(),
                        "MQTT_PORT", String.valueOf(port)));
        broker = builder.start();
        await("broker listens")
                .atMost(Duration.ofSeconds(60))
                .ignoreExceptions()
                .until(() -> {
                    try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
                        return socket.isConnected();
                    }
                });
    }

    private static String run(Map<String, String> environment, String... command)
            throws IOException, InterruptedException {
        ProcessBuilder builder = new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT);
        builder.environment().putAll(environment);
        Process process = builder.start();
        String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
        assertThat(process.waitFor(1, TimeUnit.MINUTES)).isTrue();
        assertThat(process.exitValue()).as(String.join(" ", command)).isZero();
        return said;
    }

    @AfterEach
    void stop() throws Exception {
        for (MqttAsyncClient client : clients) {
            if (client.isConnected()) {
                client.disconnectForcibly(0, 1_000, false);
            }
            client.close(true);
        }
        if (broker != null) {
            broker.destroyForcibly().waitFor();
        }
    }

    private MqttAsyncClient connect(String user, @Nullable String password) throws MqttException {
        return connect(user, password, new MqttConnectionOptions());
    }

    private MqttAsyncClient connect(String user, @Nullable String password, MqttConnectionOptions options)
            throws MqttException {
        if (!user.isEmpty()) {
            options.setUserName(user);
            options.setPassword(Objects.requireNonNull(password).getBytes(StandardCharsets.UTF_8));
        }
        return connectAs("c-" + clients.size(), options);
    }

    private MqttAsyncClient connectAs(String clientId, MqttConnectionOptions options) throws MqttException {
        MqttAsyncClient client = new MqttAsyncClient("tcp://127.0.0.1:" + port, clientId, new MemoryPersistence());
        clients.add(client);
        client.connect(options).waitForCompletion(10_000);
        return client;
    }

    private void listen(MqttAsyncClient client, String filter) throws MqttException {
        client.setCallback(new Heard(heard));
        client.subscribe(filter, 1).waitForCompletion(10_000);
    }

    /** The reason code of its receipt. */
    private static int publish(MqttAsyncClient client, String topic, String text) throws MqttException {
        var token = client.publish(topic, text.getBytes(StandardCharsets.UTF_8), 1, false);
        try {
            token.waitForCompletion(10_000);
            int[] codes = token.getReasonCodes();
            return codes == null || codes.length == 0 ? 0 : codes[0];
        } catch (MqttException refused) {
            return refused.getReasonCode();
        }
    }

    private void assertRefused(String user, @Nullable String password) {
        assertThatThrownBy(() -> connect(user, password))
                .isInstanceOfSatisfying(
                        MqttException.class,
                        e -> assertThat(e.getReasonCode())
                                .isIn(
                                        MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED,
                                        MqttReturnCode.RETURN_CODE_BAD_USERNAME_OR_PASSWORD));
    }

    @Test
    void brokerWhoseSecretCanNotBeRead_orIsEmpty_doesNotStart() throws Exception {
        Path made = directory.resolve("secrets");
        for (boolean isThere : List.of(true, false)) {
            Files.writeString(made.resolve("mqtt-broker"), "");
            if (!isThere) {
                Files.delete(made.resolve("mqtt-broker"));
            }
            Path scratch = Files.createDirectories(directory.resolve("other-" + isThere));
            ProcessBuilder builder = new ProcessBuilder(
                            "sh", DEPLOY.resolve("mosquitto.sh").toString())
                    .redirectErrorStream(true)
                    .redirectOutput(scratch.resolve("said").toFile());
            builder.environment()
                    .putAll(Map.of(
                            "PATH", System.getenv("PATH") + ":/usr/sbin",
                            "SECRETS", made.toString(),
                            "MOSQUITTO_CONFIG", directory.resolve("config").toString(),
                            "MOSQUITTO_DATA", directory.resolve("data").toString(),
                            "SCRATCH", scratch.toString(),
                            "MQTT_PORT", String.valueOf(port)));
            Process second = builder.start();
            assertThat(second.waitFor(1, TimeUnit.MINUTES)).as("ends").isTrue();
            assertThat(second.exitValue()).isEqualTo(1);
            assertThat(Files.readString(scratch.resolve("said"))).contains("mqtt-broker");
            assertThat(scratch.resolve("mosquitto.passwd")).doesNotExist();
        }
    }

    @Test
    void nobodyComesInWithoutASecretOfTheirOwn() {
        assertRefused("", null);
        assertRefused("gw-1", "wrong");
        assertRefused("gw-1", secrets.get("gw-2"));
        assertRefused("gw-3", secrets.get("gw-1"));
        assertRefused(INGEST, secrets.get("gw-1"));
    }

    @Test
    void gateway_speaksBelowItsOwnTopicOnly() throws Exception {
        MqttAsyncClient own = connect("gw-1", secrets.get("gw-1"));
        MqttAsyncClient other = connect("gw-2", secrets.get("gw-2"));
        for (String topic : List.of(
                "fleet/gw-1/senml",
                "fleet/gw-1/senml-cbor",
                "fleet/gw-1/presence",
                "fleet/gw-1/ack",
                "fleet/gw-2/ack",
                "fleet/gw-2/other",
                "fleet/gw-2/senml/more",
                "other")) {
            assertThat(publish(other, topic, "forged")).as(topic).isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
        }
        assertThat(publish(other, "fleet/gw-2/senml", "own 2")).isZero();
        assertThat(publish(own, "fleet/gw-1/presence", "online")).isZero();
        assertThat(publish(own, "fleet/gw-1/senml", "own 1")).isZero();

        await().until(() -> heard.size() >= 3);
        assertThat(heard)
                .containsExactlyInAnyOrder(
                        "fleet/gw-2/senml 1 own 2", "fleet/gw-1/presence 1 online", "fleet/gw-1/senml 1 own 1");
    }

    @Test
    void gateway_hearsItsOwnAcknowledgementsOnly() throws Exception {
        MqttAsyncClient other = connect("gw-2", secrets.get("gw-2"));
        listen(other, "fleet/#");
        listen(other, "fleet/gw-1/ack");
        MqttAsyncClient own = connect("gw-1", secrets.get("gw-1"));
        assertThat(publish(own, "fleet/gw-1/senml", "own 1")).isZero();
        assertThat(publish(Objects.requireNonNull(ingest), "fleet/gw-1/ack", "for 1"))
                .isZero();
        assertThat(publish(Objects.requireNonNull(ingest), "fleet/gw-2/ack", "for 2"))
                .isZero();

        await().until(() -> heard.contains("fleet/gw-2/ack 1 for 2"));
        assertThat(heard).containsOnly("fleet/gw-1/senml 1 own 1", "fleet/gw-2/ack 1 for 2");
    }

    @Test
    void willOnTheTopicOfAnother_isNeverHeard() throws Exception {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setWill(
                "fleet/gw-1/presence", new MqttMessage("offline".getBytes(StandardCharsets.UTF_8), 1, false, NONE));
        try {
            connect("gw-2", secrets.get("gw-2"), options).disconnectForcibly(0, 0, false);
        } catch (MqttException refused) {
            assertThat(refused.getReasonCode()).isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
        }
        MqttAsyncClient own = connect("gw-1", secrets.get("gw-1"));
        assertThat(publish(own, "fleet/gw-1/presence", "online")).isZero();

        await().until(() -> heard.contains("fleet/gw-1/presence 1 online"));
        assertThat(heard).doesNotContain("fleet/gw-1/presence 1 offline");
    }

    private MqttConnectionOptions thatStays() {
        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setCleanStart(false);
        options.setSessionExpiryInterval(600L);
        return options;
    }

    @Test
    void gatewayThatTakesTheClientIdentifierOfIngest_endsNoConnection_andDeletesNothingThatWaits() throws Exception {
        MqttAsyncClient before = connect(INGEST, secrets.get(INGEST), thatStays());
        listen(before, "$share/rimecast/fleet/+/senml");
        MqttConnectionOptions forged = new MqttConnectionOptions();
        forged.setCleanStart(true);
        forged.setUserName("gw-2");
        forged.setPassword(Objects.requireNonNull(secrets.get("gw-2")).getBytes(StandardCharsets.UTF_8));
        MqttAsyncClient own = connect("gw-1", secrets.get("gw-1"));
        connectAs(INGEST, forged);
        assertThat(publish(own, "fleet/gw-1/senml", "while it is there")).isZero();
        await().until(() -> heard.contains("fleet/gw-1/senml 1 while it is there"));
        assertThat(before.isConnected()).isTrue();

        before.disconnect().waitForCompletion(10_000);
        assertThat(publish(own, "fleet/gw-1/senml", "that waits")).isZero();
        connectAs(INGEST, forged);
        MqttAsyncClient again = new MqttAsyncClient("tcp://127.0.0.1:" + port, INGEST, new MemoryPersistence());
        clients.add(again);
        again.setCallback(new Heard(heard));
        MqttConnectionOptions options = thatStays();
        options.setUserName(INGEST);
        options.setPassword(Objects.requireNonNull(secrets.get(INGEST)).getBytes(StandardCharsets.UTF_8));
        again.connect(options).waitForCompletion(10_000);
        await().until(() -> heard.contains("fleet/gw-1/senml 1 that waits"));
    }

    @Test
    void productItself_speaksForNoGateway() throws Exception {

        assertThat(publish(Objects.requireNonNull(ingest), "fleet/gw-1/senml", "forged"))
                .isEqualTo(MqttReturnCode.RETURN_CODE_NOT_AUTHORIZED);
    }

    @Test
    void gatewayThatIsTakenOut_isNotInTheFileAnyMore_andANewSecretReplacesTheOld() throws Exception {
        Path made = directory.resolve("secrets");
        Map<String, String> where = Map.of("SECRETS_DIRECTORY", made.toString());
        String script = DEPLOY.resolve("broker-gateway.sh").toString();
        String again = run(where, script, "gw-1").split(" ", -1)[1].strip();
        assertThat(again).isNotEqualTo(secrets.get("gw-1")).hasSize(64);
        run(where, script, "--remove", "gw-2");

        assertThat(Files.readAllLines(made.resolve("mqtt-gateways")))
                .singleElement()
                .satisfies(line -> assertThat(line).startsWith("gw-1:$7$"));
    }
}
