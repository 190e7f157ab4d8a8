package dev.rimecast.ingest;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.broker.BrokerSettings;
import dev.rimecast.ingest.mqtt.Heard;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import java.util.stream.LongStream;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.eclipse.paho.mqttv5.common.packet.MqttProperties;
import org.eclipse.paho.mqttv5.common.packet.UserProperty;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Ingest behind a broker that others wrote, with a real Kafka. The line between both is tapped. */
class BrokerIT {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");
    private static final Duration LONG = Duration.ofSeconds(60);

    @TempDir
    static Path kafkaDirectory;

    private static KafkaFixture kafka;

    @TempDir
    Path directory;

    private final List<IngestStage> stages = new ArrayList<>();
    private final SimpleMeterRegistry meters = new SimpleMeterRegistry();
    private Mosquitto broker;
    private WireTap tap;
    private String boot;

    @BeforeAll
    static void startKafka() throws Exception {
        Mosquitto.require("mosquitto");
        Mosquitto.require("mosquitto_pub");
        kafka = new KafkaFixture(kafkaDirectory);
        kafka.register(Machine.basic("ice-1", "harbour", "gw-1"), Machine.basic("ice-2", "station", "gw-2"));
    }

    @AfterAll
    static void stopKafka() {
        if (kafka != null) {
            kafka.close();
        }
    }

    @BeforeEach
    void makeBroker(org.junit.jupiter.api.TestInfo test) throws Exception {
        boot = test.getTestMethod().orElseThrow().getName().replaceAll("[^a-zA-Z]", "");
        boot = boot.substring(0, Math.min(60, boot.length()));
        broker = Mosquitto.in(directory, "allow_anonymous true");
        tap = new WireTap(broker.port());
    }

    @AfterEach
    void stop() throws Exception {
        stages.forEach(IngestStage::close);
        tap.close();
        broker.close();
    }

    private IngestStage ingest(String clientId) throws Exception {
        return ingest(
                BrokerSettings.standard("mqtt://127.0.0.1:" + tap.port(), clientId, "rimecast", Optional.empty()));
    }

    private IngestStage ingest(BrokerSettings settings) throws Exception {
        IngestStage stage =
                IngestStage.start(IngestSettings.standard(kafka.client()).withBrokerOnly(settings), () -> NOW, meters);
        stages.add(stage);
        assertThat(stage.awaitReady(Duration.ofSeconds(30))).isTrue();
        return stage;
    }

    private IngestStage connected(String clientId) throws Exception {
        IngestStage stage = ingest(clientId);
        awaitWell(stage);
        return stage;
    }

    private static void awaitWell(IngestStage stage) {
        await().atMost(LONG)
                .untilAsserted(() -> assertThat(stage.health().isWell())
                        .as(stage.health().inWords())
                        .isTrue());
    }

    private MqttMessage pack(long seq) {
        MqttProperties properties = new MqttProperties();
        properties.setUserProperties(
                List.of(new UserProperty("boot", boot), new UserProperty("seq", Long.toString(seq))));
        return new MqttMessage(Senml.pack("ice-1", NOW.minusSeconds(seq), (double) seq), 1, false, properties);
    }

    private List<Long> stored() {
        return kafka.siteLog(SiteRecord.Pack.class).stream()
                .flatMap(p -> p.number().stream())
                .filter(n -> n.boot().equals(boot))
                .map(PackNumber::seq)
                .toList();
    }

    private static Set<Long> upTo(int packs) {
        return LongStream.rangeClosed(1, packs).boxed().collect(Collectors.toSet());
    }

    /** On each connection the acknowledged messages are the first ones that came, in their order. */
    private void assertAcknowledgedInOrder() {
        assertThat(tap.wires)
                .allSatisfy(wire ->
                        assertThat(wire.acknowledged).isEqualTo(wire.sent.subList(0, wire.acknowledged.size())));
    }

    private void publish(int packs) throws Exception {
        try (Load load = new Load(broker.port(), "gw-1", packs, this::pack)) {
            load.run();
            assertThat(load.await(60)).isTrue();
            assertThat(load.failed).hasValue(0);
        }
    }

    private double count(String name) {
        return meters.get("rimecast.ingest." + name).counter().count();
    }

    @Test
    void packsOfACommand_endInKafka_andAreAcknowledged() throws Exception {
        broker.start();
        IngestStage stage = connected("ingest-1");
        command("fleet/gw-1/senml", new String(Senml.pack("ice-1", NOW, 5), StandardCharsets.UTF_8), "7");
        command("fleet/gw-2/senml", "no pack at all", "8");

        await().atMost(LONG).untilAsserted(() -> assertThat(tap.acknowledged()).isEqualTo(2));
        assertThat(stored()).containsExactlyInAnyOrder(7L, 8L);
        assertThat(count("records.received")).isEqualTo(2);
        assertThat(count("records.stored")).isOne();
        assertThat(stage.health().inWords()).contains("connected to the MQTT broker");
    }

    @Test
    void presence_thatWasSaidBeforeWeCame_isInTheLog() throws Exception {
        broker.start();
        command("fleet/gw-2/presence", "online", "1", "-r");
        connected("ingest-1");

        await().atMost(LONG)
                .untilAsserted(() -> assertThat(kafka.siteLog(SiteRecord.Presence.class))
                        .contains(new SiteRecord.Presence(NOW, "gw-2", true)));
    }

    @Test
    void brokerThatIsNotThereYet_isAStateOfHealth_andIsFoundWhenItComes() throws Exception {
        IngestStage stage = ingest("ingest-1");
        await().atMost(LONG).until(() -> stage.health().inWords().contains("is away"));
        assertThat(stage.health().isWell()).isFalse();
        assertThat(stage.health().isBrokerThere()).isFalse();

        broker.start();
        awaitWell(stage);
        publish(10);
        await().atMost(LONG).until(() -> tap.acknowledged() == 10);
        assertThat(stored()).hasSize(10);
    }

    @Test
    void kafkaAway_nothingIsAcknowledged_andTheBrokerStopsAtTheReceiveMaximum_thenAllIs() throws Exception {
        broker.start();
        IngestStage stage = connected("ingest-1");
        int packs = 1000;
        kafka.stop();
        try {
            publish(packs);
            await().atMost(LONG).until(() -> tap.sent() >= BrokerSettings.RECEIVE_MAXIMUM);
            // Both only grow: what is not so any more never is again, however long it may take a busy machine to look.
            await().during(Duration.ofSeconds(4))
                    .atMost(LONG)
                    .until(() -> tap.acknowledged() == 0 && tap.sent() == BrokerSettings.RECEIVE_MAXIMUM);
            assertThat(stage.health().packsInFlight()).isEqualTo(BrokerSettings.RECEIVE_MAXIMUM);
        } finally {
            kafka.startAgain();
        }
        await().atMost(LONG).until(() -> tap.acknowledged() == packs);

        assertThat(stored()).isEqualTo(upTo(packs).stream().sorted().toList());
        assertAcknowledgedInOrder();
        assertThat(count("records.stored")).isEqualTo(packs);
        assertThat(count("records.unsure")).isZero();
    }

    @Test
    void lineCut_withUnacknowledgedPacks_theyComeAgain_andNoneIsLost() throws Exception {
        broker.start();
        IngestStage stage = connected("ingest-1");
        int packs = 600;
        kafka.stop();
        try {
            publish(packs);
            await().atMost(LONG).until(() -> tap.sent() >= BrokerSettings.RECEIVE_MAXIMUM);
            tap.cut();
            await().atMost(LONG).until(() -> stage.health().inWords().contains("packs of the last connection"));
            assertThat(tap.acknowledged()).isZero();
        } finally {
            kafka.startAgain();
        }
        await().atMost(LONG).until(() -> tap.acknowledged() >= packs);

        assertThat(tap.wires).hasSize(2);
        assertThat(tap.wires.get(0).acknowledged).isEmpty();
        assertThat(new HashSet<>(stored())).isEqualTo(upTo(packs));
        assertAcknowledgedInOrder();
        assertThat(count("broker.receipts.late")).isEqualTo(BrokerSettings.RECEIVE_MAXIMUM);
        assertThat(count("broker.connections")).isEqualTo(2);
        assertThat(count("broker.sessions.begun")).isOne();
    }

    @Test
    void lineCut_againAndAgainUnderLoad_noneIsLost() throws Exception {
        broker.start();
        connected("ingest-1");
        int packs = 3000;
        int cuts = 5;
        int each = 100;
        tap.cutAfter(each, cuts);
        publish(packs);
        await().atMost(LONG)
                .untilAsserted(() -> assertThat(new HashSet<>(stored())).isEqualTo(upTo(packs)));
        await().atMost(LONG).until(() -> tap.acknowledged() >= packs);

        assertThat(tap.wires).hasSize(cuts + 1);
        assertThat(tap.wires.subList(0, cuts))
                .allSatisfy(wire -> assertThat(wire.acknowledged).hasSize(each));
        assertAcknowledgedInOrder();
    }

    @Test
    void brokerKilled_withWhatWaitsSaved_allOfItArrivesAfterTheRestart() throws Exception {
        broker.start();
        IngestStage stage = connected("ingest-1");
        int packs = 500;
        kafka.stop();
        try {
            publish(packs);
            await().atMost(LONG).until(() -> tap.sent() >= BrokerSettings.RECEIVE_MAXIMUM);
            broker.save();
            broker.kill();
            await().atMost(LONG).until(() -> !stage.health().isBrokerThere());
            assertThat(tap.acknowledged()).isZero();
        } finally {
            kafka.startAgain();
        }
        broker.start();
        await().atMost(LONG)
                .untilAsserted(() -> assertThat(new HashSet<>(stored())).isEqualTo(upTo(packs)));
        awaitWell(stage);
        assertAcknowledgedInOrder();
        assertThat(count("broker.sessions.begun")).isOne();
    }

    @Test
    void instancesOfAGroup_shareThePacks_andEachIsStoredOnce() throws Exception {
        broker.start();
        connected("ingest-1");
        connected("ingest-2");
        publish(400);

        await().atMost(LONG).until(() -> tap.acknowledged() == 400);
        assertThat(stored()).hasSize(400).containsExactlyInAnyOrderElementsOf(upTo(400));
        assertThat(tap.wires)
                .hasSize(2)
                .allSatisfy(wire -> assertThat(wire.acknowledged).hasSizeGreaterThan(50));
    }

    @Test
    void stoppedAndStarted_whatCameMeanwhileIsTaken() throws Exception {
        broker.start();
        IngestStage first = connected("ingest-1");
        publish(20);
        await().atMost(LONG).until(() -> tap.acknowledged() == 20);
        first.close();
        stages.remove(first);
        boot = boot + "2";
        publish(30);
        connected("ingest-1");

        await().atMost(LONG).untilAsserted(() -> assertThat(stored()).hasSize(30));
        assertThat(count("broker.sessions.begun")).isOne();
    }

    @Test
    void sameClientIdTwice_isSuspectedInWords() throws Exception {
        broker.start();
        IngestStage first = connected("ingest-1");
        IngestStage second = ingest("ingest-1");

        await().atMost(LONG)
                .pollInterval(Duration.ofMillis(20))
                .until(() -> List.of(first, second).stream()
                        .anyMatch(
                                stage -> stage.health().inWords().contains("another client connected as 'ingest-1'?")));
    }

    @Test
    void wrongPassword_isSaidInWords_andTheRightOneIsLetIn() throws Exception {
        Path passwords = directory.resolve("passwords");
        Process made = new ProcessBuilder(
                        Mosquitto.require("mosquitto_passwd").toString(),
                        "-b",
                        "-c",
                        passwords.toString(),
                        "us",
                        "right")
                .start();
        assertThat(made.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(Files.exists(passwords)).isTrue();
        broker = Mosquitto.in(directory, "allow_anonymous false", "password_file " + passwords);
        broker.start();

        IngestStage wrong = ingest(login("ingest-1", "wrong"));
        await().atMost(LONG).until(() -> wrong.health().inWords().contains("refuses user or password"));
        awaitWell(ingest(login("ingest-2", "right")));
    }

    private BrokerSettings login(String clientId, String password) {
        return BrokerSettings.standard(
                "mqtt://127.0.0.1:" + broker.port(),
                clientId,
                "rimecast",
                Optional.of(new BrokerSettings.Login("us", password)));
    }

    private void command(String topic, String payload, String seq, String... more) throws Exception {
        List<String> command = new ArrayList<>(List.of(
                Mosquitto.require("mosquitto_pub").toString(), "-V", "mqttv5", "-q", "1", "-h", "127.0.0.1", "-p"));
        command.addAll(List.of("" + broker.port(), "-t", topic, "-m", payload));
        command.addAll(List.of("-D", "publish", "user-property", "boot", boot));
        command.addAll(List.of("-D", "publish", "user-property", "seq", seq));
        command.addAll(List.of(more));
        Process process = new ProcessBuilder(command).inheritIO().start();
        assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(process.exitValue()).isZero();
    }

    @Test
    void ack_reachesTheGatewayThroughTheBroker_againWhenItComesBack() throws Exception {
        broker.start();
        connected("acks");
        List<String> heard = new CopyOnWriteArrayList<>();
        MqttAsyncClient gateway =
                new MqttAsyncClient("tcp://127.0.0.1:" + broker.port(), "gw-1", new MemoryPersistence());
        gateway.setCallback(new Heard(heard));
        gateway.connect(new MqttConnectionOptions()).waitForCompletion(5000);
        gateway.subscribe("fleet/gw-1/ack", 1).waitForCompletion(5000);
        PackNumber upTo = new PackNumber(boot, 5);
        kafka.acknowledge("harbour", new GatewayAck("gw-1", upTo, 0));
        String told = "fleet/gw-1/ack 1 {\"boot\":\"" + boot + "\",\"seq\":5}";
        await().atMost(LONG).untilAsserted(() -> assertThat(heard).containsExactly(told));

        gateway.publish("fleet/gw-1/presence", "online".getBytes(UTF_8), 1, true)
                .waitForCompletion(5000);

        await().atMost(LONG).untilAsserted(() -> assertThat(heard).containsExactly(told, told));
        gateway.disconnect().waitForCompletion(5000);
    }
}
