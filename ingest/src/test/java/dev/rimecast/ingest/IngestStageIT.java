package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.mqtt.Heard;
import dev.rimecast.telemetry.ack.GatewayAck;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicReference;
import java.util.stream.IntStream;
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

/** All of ingest, with a real Kafka and real MQTT clients. */
class IngestStageIT {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:30Z");

    @TempDir
    static Path directory;

    private static KafkaFixture kafka;

    private final SimpleMeterRegistry meters = new SimpleMeterRegistry();
    private final AtomicReference<Instant> now = new AtomicReference<>(NOW);
    private IngestStage stage;

    @BeforeAll
    static void startKafka() throws Exception {
        kafka = new KafkaFixture(directory);
        kafka.register(Machine.basic("ice-1", "harbour", "gw-1"), Machine.basic("ice-2", "station", "gw-2"));
    }

    @AfterAll
    static void stopKafka() {
        kafka.close();
    }

    @BeforeEach
    void start() throws Exception {
        stage = IngestStage.start(
                IngestSettings.standard(kafka.client())
                        .withMqtt("127.0.0.1", 0)
                        .withoutRateLimit()
                        .withInFlight(300, 1 << 20, Duration.ofMinutes(2)),
                now::get,
                meters);
        assertThat(stage.awaitReady(Duration.ofSeconds(30))).isTrue();
    }

    @AfterEach
    void stop() {
        stage.close();
    }

    @Test
    void receipt_meansThatKafkaHasThePack() throws Exception {
        MqttAsyncClient client = connect("receipt");
        for (int seq = 1; seq <= 20; seq++) {
            client.publish("fleet/gw-1/senml", numbered("receipt", seq, Senml.pack("ice-1", NOW.plusSeconds(seq), seq)))
                    .waitForCompletion(10_000);
            assertThat(seqsOf("receipt")).hasSize(seq);
        }
        client.disconnect().waitForCompletion(5000);
        assertThat(kafka.siteLog(SiteRecord.Pack.class).stream()
                        .filter(p -> p.number()
                                .map(PackNumber::boot)
                                .filter("receipt"::equals)
                                .isPresent())
                        .flatMap(p -> p.readings().stream())
                        .map(Reading::value))
                .containsExactlyElementsOf(
                        IntStream.rangeClosed(1, 20).mapToObj(i -> (double) i).toList());
    }

    /** Of a gateway of its own, so that the other tests have theirs. */
    @Test
    void keysOfTheTopic_lockItsGatewayAtOnce_andLetItInByThem() throws Exception {
        MqttAsyncClient unproved = connect("unproved");
        unproved.publish("fleet/gw-locked/presence", new MqttMessage("online".getBytes(StandardCharsets.UTF_8)))
                .waitForCompletion(5000);

        kafka.keys("gw-locked", new GatewayKey(GatewayKey.Kind.SECRET, GatewayKey.digest("s3cret"), Optional.empty()));
        await().until(() -> !unproved.isConnected());

        MqttConnectionOptions options = new MqttConnectionOptions();
        options.setUserName("gw-locked");
        options.setPassword("s3cret".getBytes(StandardCharsets.UTF_8));
        MqttAsyncClient proved =
                new MqttAsyncClient("tcp://127.0.0.1:" + stage.mqttPort(), "proved", new MemoryPersistence());
        proved.connect(options).waitForCompletion(5000);
        assertThat(proved.isConnected()).isTrue();
        proved.disconnect().waitForCompletion(5000);
    }

    @Test
    void acks_ofTheTopic_reachTheGatewayThatListens_alsoWhenItComesLater() throws Exception {
        List<String> heard = new CopyOnWriteArrayList<>();
        kafka.acknowledge("harbour", new GatewayAck("gw-1", new PackNumber("b1", 5), 0));
        MqttAsyncClient client = connect("listens");
        client.setCallback(new Heard(heard));
        client.subscribe("fleet/gw-1/ack", 1).waitForCompletion(5000);
        await().until(() -> heard.size() == 1);

        kafka.acknowledge("station", new GatewayAck("gw-2", new PackNumber("b1", 1), 0));
        kafka.acknowledge("harbour", new GatewayAck("gw-1", new PackNumber("b1", 6), 0));
        await().until(() -> heard.size() == 2);

        assertThat(heard)
                .containsExactly(
                        "fleet/gw-1/ack 1 {\"boot\":\"b1\",\"seq\":5}", "fleet/gw-1/ack 1 {\"boot\":\"b1\",\"seq\":6}");
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void poison_isKeptAmongTheRejects_andTheConnectionGoesOn() throws Exception {
        MqttAsyncClient client = connect("poison");
        byte[] poison = "[{\"n\":\"ice-1/evaporator_temperature\",\"v\":".getBytes(StandardCharsets.UTF_8);
        byte[] half = ("[{\"n\":\"ice-1/evaporator_temperature\",\"u\":\"Cel\",\"v\":1},"
                        + "{\"n\":\"ice-1/condenser_temperature\",\"u\":\"Fahrenheit\",\"v\":110},"
                        + "{\"n\":\"ice-2/evaporator_temperature\",\"u\":\"Cel\",\"v\":2},"
                        + "{\"n\":\"ice-99/evaporator_temperature\",\"u\":\"Cel\",\"v\":3}]")
                .getBytes(StandardCharsets.UTF_8);
        int unclaimedBefore = kafka.read(Topics.UNCLAIMED).size();
        publishAll(client, "fleet/gw-1/senml", numbered("poison", 1, poison), numbered("poison", 2, half));

        await().untilAsserted(() -> assertThat(seqsOf("poison")).containsExactly(1L, 2L));
        assertThat(kafka.read(Topics.REJECTS))
                .anySatisfy(r -> assertThat(r.value()).isEqualTo(poison));
        assertThat(kafka.read(Topics.REJECTS)).anySatisfy(r -> {
            assertThat(r.value()).isEqualTo(half);
            List<String> reasons = new ArrayList<>();
            r.headers().headers("rejected").forEach(h -> reasons.add(new String(h.value(), StandardCharsets.UTF_8)));
            assertThat(reasons).hasSize(2);
            assertThat(reasons.get(0)).startsWith("1 ");
            assertThat(reasons.get(1)).startsWith("2 machine-of-other-gateway");
        });
        assertThat(kafka.read(Topics.UNCLAIMED)).hasSize(unclaimedBefore + 1);
        assertThat(stage.rejects(50)).as("for who runs it").anySatisfy(reject -> {
            assertThat(reject.payload()).isEqualTo(half);
            assertThat(reject.sender()).isEqualTo("gw-1");
            assertThat(reject.topic()).isEqualTo("fleet/gw-1/senml");
            assertThat(reject.reasons()).hasSize(2).element(1).asString().startsWith("2 machine-of-other-gateway");
        });
        assertThat(stage.rejects(1)).hasSize(1);
        assertThat(stage.unclaimed()).singleElement().satisfies(waiting -> {
            assertThat(waiting.machine()).isEqualTo("ice-99");
            assertThat(waiting.gateway()).isEqualTo("gw-1");
            assertThat(waiting.readings()).isEqualTo(1);
        });
        assertBalance(5, 1, 1, 3);
        client.disconnect().waitForCompletion(5000);
    }

    @Test
    void kafkaAway_nothingIsAcknowledged_andKafkaBack_everythingIs_nothingLost() throws Exception {
        int packs = 3000;
        try (Load load = new Load(
                stage.mqttPort(),
                "gw-1",
                packs,
                seq -> numbered("outage", seq, Senml.pack("ice-1", NOW.minusSeconds(seq), 1)))) {
            kafka.stop();
            Thread sender = new Thread(load);
            sender.start();
            await().during(Duration.ofSeconds(4))
                    .atMost(Duration.ofSeconds(6))
                    .until(() -> load.acknowledged.get() == 0);
            assertThat(sender.isAlive()).isTrue();
            assertThat(stage.health().packsInFlight()).isPositive().isLessThanOrEqualTo(300);

            kafka.startAgain();
            assertThat(load.await(120)).isTrue();
            sender.join();
            assertThat(load.failed).hasValue(0);
        }
        assertThat(seqsOf("outage"))
                .isEqualTo(
                        IntStream.rangeClosed(1, packs).mapToObj(i -> (long) i).toList());
        assertBalance(packs, packs, 0, 0);
        assertThat(stage.health().isWell()).isTrue();
    }

    /** Without a receive maximum, MQTT 3.1.1, a flood is held back by the socket alone. */
    @Test
    void kafkaAway_aFloodOfVersion3_isHeldBackBelowTheBound() throws Exception {
        // 20 MB: more than socket buffers take.
        int packs = 10_000;
        byte[] payload = Senml.padded("ice-1", NOW, 2000);
        kafka.stop();
        try (var flood = new Flood(stage.mqttPort())) {
            Thread sender = new Thread(() -> flood.publish("fleet/gw-1/senml", payload, packs));
            sender.start();
            await().until(() -> stage.health().isHoldingBack());
            await().during(Duration.ofSeconds(2)).until(() -> stage.health().packsInFlight() <= 301);
            assertThat(sender.isAlive()).isTrue();
            assertThat(stage.health().isWell()).isFalse();

            kafka.startAgain();
            assertThat(flood.readReceipts(packs))
                    .isEqualTo(IntStream.rangeClosed(1, packs).boxed().toList());
        }
        assertBalance(packs, packs, 0, 0);
    }

    @Test
    void tick_isWrittenToEveryPartition_whenAMinuteBegins() {
        now.set(Instant.parse("2026-05-04T12:07:01Z"));
        SiteRecord.Tick tick = new SiteRecord.Tick(Instant.parse("2026-05-04T12:07:00Z"));
        await().untilAsserted(() -> assertThat(
                        kafka.siteLog(SiteRecord.Tick.class).stream().filter(tick::equals))
                .hasSize(3));
    }

    @Test
    void machine_thatIsRegisteredWhileGatewaysAreConnected_isKnownAtOnce() throws Exception {
        MqttAsyncClient client = connect("late");
        kafka.register(Machine.basic("ice-7", "mill", "gw-7"));
        await().untilAsserted(() -> {
            client.publish("fleet/gw-7/senml", new MqttMessage(Senml.pack("ice-7", NOW, 1)))
                    .waitForCompletion(5000);
            assertThat(kafka.siteLog(SiteRecord.Pack.class))
                    .anyMatch(p -> p.gateway().equals("gw-7"));
        });
        client.disconnect().waitForCompletion(5000);
    }

    /** Contract section 3: "its readings are kept, and claiming it processes them". */
    @Test
    void readings_ofAMachineInNoRegister_areTakenOverOnceWhenItIsClaimed() throws Exception {
        int packs = 600;
        try (Load load = new Load(
                stage.mqttPort(),
                "gw-50",
                packs,
                seq -> numbered("claim", seq, Senml.pack("ice-50", NOW.plusSeconds(seq % 500), seq)))) {
            Thread sender = new Thread(load);
            sender.start();
            await().until(() -> load.acknowledged.get() > 50);
            assertThat(valuesOf("gw-50")).isEmpty();

            // Claimed in the middle of the stream: some readings waited, some come now.
            kafka.register(Machine.basic("ice-50", "quay", "gw-50"));
            assertThat(load.await(60)).isTrue();
            assertThat(load.failed).hasValue(0);
        }
        List<Double> everyOne =
                IntStream.rangeClosed(1, packs).mapToObj(i -> (double) i).toList();
        await().atMost(Duration.ofSeconds(60))
                .untilAsserted(() -> assertThat(valuesOf("gw-50")).containsExactlyInAnyOrderElementsOf(everyOne));

        // A new start takes nothing over again.
        stop();
        start();
        assertThat(valuesOf("gw-50")).containsExactlyInAnyOrderElementsOf(everyOne);
    }

    private static List<Double> valuesOf(String gateway) {
        return kafka.siteLog(SiteRecord.Pack.class).stream()
                .filter(pack -> pack.gateway().equals(gateway))
                .flatMap(pack -> pack.readings().stream())
                .map(Reading::value)
                .toList();
    }

    private MqttAsyncClient connect(String id) throws Exception {
        MqttAsyncClient client =
                new MqttAsyncClient("tcp://127.0.0.1:" + stage.mqttPort(), id, new MemoryPersistence());
        client.connect(new MqttConnectionOptions()).waitForCompletion(10_000);
        return client;
    }

    private static MqttMessage numbered(String boot, long seq, byte[] payload) {
        MqttProperties properties = new MqttProperties();
        properties.setUserProperties(
                List.of(new UserProperty("boot", boot), new UserProperty("seq", Long.toString(seq))));
        return new MqttMessage(payload, 1, false, properties);
    }

    private static void publishAll(MqttAsyncClient client, String topic, MqttMessage... messages) throws Exception {
        for (MqttMessage message : messages) {
            client.publish(topic, message);
        }
    }

    private static List<Long> seqsOf(String boot) {
        return kafka.siteLog(SiteRecord.Pack.class).stream()
                .flatMap(p -> p.number().stream())
                .filter(n -> n.boot().equals(boot))
                .map(PackNumber::seq)
                .toList();
    }

    private void assertBalance(int received, int stored, int unclaimed, int rejected) {
        assertThat(count("received")).isEqualTo(received);
        await().untilAsserted(() -> {
            assertThat(count("stored")).isEqualTo(stored);
            assertThat(count("unclaimed")).isEqualTo(unclaimed);
            assertThat(meters.get("rimecast.ingest.records.rejected").counters().stream()
                            .mapToDouble(Counter::count)
                            .sum())
                    .isEqualTo(rejected);
        });
        assertThat(count("unsure")).isZero();
    }

    private double count(String what) {
        return meters.get("rimecast.ingest.records." + what).counter().count();
    }
}
