package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.kafka.LaidAside;
import dev.rimecast.ingest.kafka.RejectId;
import dev.rimecast.ingest.kafka.RejectReplay.Outcome;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.reading.Reading;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import org.apache.kafka.common.KafkaException;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Rejected messages that are taken again, with a real Kafka and real gateways. */
class RejectReplayIT {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:30Z");

    @TempDir
    static Path directory;

    private static final AtomicInteger TESTS = new AtomicInteger();
    private static final SimpleMeterRegistry METERS = new SimpleMeterRegistry();
    private static KafkaFixture kafka;
    private static IngestStage stage;

    /** Each test has a gateway, a machine behind it, and one that the register has behind another. */
    private final int test = TESTS.incrementAndGet();

    private final String gateway = "gw-" + test;
    private final String own = "own-" + test;
    private final String strange = "strange-" + test;

    @BeforeAll
    static void startKafka() throws Exception {
        kafka = new KafkaFixture(directory);
        kafka.register(Machine.basic("ice-1", "harbour", "gw-0"));
        stage = IngestStage.start(
                IngestSettings.standard(kafka.client()).withMqtt("127.0.0.1", 0).withoutRateLimit(), () -> NOW, METERS);
        assertThat(stage.awaitReady(Duration.ofSeconds(30))).isTrue();
    }

    @AfterAll
    static void stopKafka() {
        stage.close();
        kafka.close();
    }

    @BeforeEach
    void register() throws Exception {
        kafka.register(Machine.basic(own, "harbour", gateway), Machine.basic(strange, "harbour", "gw-0"));
        await().atMost(Duration.ofSeconds(60)).untilAsserted(() -> {
            publish(reading(own, 0));
            assertThat(values()).as("the register is in force").isNotEmpty();
        });
    }

    private static byte[] reading(String machine, int celsius) {
        return ("[{\"n\":\"" + machine + "/evaporator_temperature\",\"u\":\"Cel\",\"v\":" + celsius + "}]")
                .getBytes(StandardCharsets.UTF_8);
    }

    /** One good record, one of a machine that is behind another gateway by the register, one in a unit that is none. */
    private byte[] mixed() {
        return ("[{\"n\":\"" + own + "/evaporator_temperature\",\"u\":\"Cel\",\"v\":1,\"t\":-60},"
                        + "{\"n\":\"" + strange + "/evaporator_temperature\",\"u\":\"Cel\",\"v\":2,\"t\":-60},"
                        + "{\"n\":\"" + own + "/condenser_temperature\",\"u\":\"Fahrenheit\",\"v\":110}]")
                .getBytes(StandardCharsets.UTF_8);
    }

    private void publish(byte[] payload) throws Exception {
        MqttAsyncClient client =
                new MqttAsyncClient("tcp://127.0.0.1:" + stage.mqttPort(), "c", new MemoryPersistence());
        client.connect(new MqttConnectionOptions()).waitForCompletion(5_000);
        client.publish("fleet/" + gateway + "/senml", new MqttMessage(payload, 1, false, null))
                .waitForCompletion(10_000);
        client.disconnect().waitForCompletion(5_000);
        client.close();
    }

    private List<LaidAside.Rejected> rejects() {
        return stage.rejects(100).stream()
                .filter(one -> one.sender().equals(gateway))
                .toList();
    }

    /** A transaction is to be read a moment after its end was promised. */
    private RejectId onlyReject() {
        await().until(() -> !rejects().isEmpty());
        assertThat(rejects()).hasSize(1);
        return rejects().get(0).id();
    }

    /** The register gives the machine to the gateway that has always spoken for it. */
    private void mend() throws Exception {
        kafka.register(Machine.basic(strange, "harbour", gateway));
    }

    private List<Reading> readings() {
        return kafka.siteLog(SiteRecord.Pack.class).stream()
                .filter(pack -> pack.gateway().equals(gateway))
                .flatMap(pack -> pack.readings().stream())
                .toList();
    }

    /** Without those of the start, which are 0. */
    private List<Double> values() {
        return readings().stream().map(Reading::value).toList();
    }

    private List<Double> valuesSince() {
        return values().stream().filter(value -> value != 0).toList();
    }

    private double count(String name, String... tags) {
        Counter counter = METERS.find(name).tags(tags).counter();
        return counter == null ? 0 : counter.count();
    }

    /** Tries until the register of the mend has arrived, which takes a moment. */
    private Outcome.Done replayUntilStored(RejectId id) {
        return (Outcome.Done) await().atMost(Duration.ofSeconds(60))
                .until(
                        () -> stage.replayReject(id, "Ada"),
                        outcome -> outcome instanceof Outcome.Done done
                                && done.replayed().stored() > 0);
    }

    @Test
    void replay_afterAMend_takesOnlyWhatWasRejected_once_andSaysWhoDidIt() throws Exception {
        publish(mixed());
        RejectId id = onlyReject();
        assertThat(valuesSince()).containsExactly(1.0);
        double received = count("rimecast.ingest.records.received");
        double replayed = count("rimecast.ingest.records.replayed", "outcome", "stored");

        mend();
        Outcome.Done done = replayUntilStored(id);

        assertThat(done.replayed().stored()).isEqualTo(1);
        assertThat(done.replayed().rejected()).hasSize(1).first().asString().startsWith("2 fahrenheit");
        assertThat(valuesSince()).containsExactly(1.0, 2.0);
        Reading taken = readings().get(readings().size() - 1);
        assertThat(taken.machine()).isEqualTo(strange);
        assertThat(taken.timeMillis())
                .as("relative to its receipt, not to now")
                .isEqualTo(NOW.minusSeconds(60).toEpochMilli());

        Outcome.Done again = (Outcome.Done) stage.replayReject(id, "Ben");
        assertThat(again.replayed().stored()).isZero();
        assertThat(valuesSince()).containsExactly(1.0, 2.0);
        LaidAside.Rejected shown = rejects().get(0);
        assertThat(rejects()).as("a replay is no reject").hasSize(1);
        assertThat(shown.replays())
                .last()
                .satisfies(last -> assertThat(last.by()).isEqualTo("Ben"));
        assertThat(shown.replays())
                .filteredOn(one -> one.stored() > 0)
                .singleElement()
                .satisfies(one -> {
                    assertThat(one.by()).isEqualTo("Ada");
                    assertThat(one.at()).isEqualTo(NOW);
                });
        assertThat(count("rimecast.ingest.records.received"))
                .as("a replay is received no second time")
                .isEqualTo(received);
        assertThat(count("rimecast.ingest.records.replayed", "outcome", "stored"))
                .isEqualTo(replayed + 1);
    }

    @Test
    void replay_whenEverythingWasTaken_doesNothing() throws Exception {
        publish(reading(strange, 7));
        RejectId id = onlyReject();
        mend();
        replayUntilStored(id);

        assertThat(stage.replayReject(id, "Ben"))
                .isInstanceOfSatisfying(
                        Outcome.NothingLeft.class,
                        nothing -> assertThat(nothing.before())
                                .hasValueSatisfying(
                                        before -> assertThat(before.by()).isEqualTo("Ada")));
        assertThat(valuesSince()).containsExactly(7.0);
    }

    @Test
    void replay_ofPoisonAndOfNothing_saysSo() throws Exception {
        publish("[{\"n\":".getBytes(StandardCharsets.UTF_8));
        RejectId id = onlyReject();

        Outcome.Done done = (Outcome.Done) stage.replayReject(id, "Ada");

        assertThat(done.replayed().stored()).isZero();
        assertThat(done.replayed().rejected()).hasSize(1).first().asString().startsWith("- not-senml");
        assertThat(stage.replayReject(new RejectId(id.partition(), 9_999), "Ada"))
                .isInstanceOf(Outcome.Unknown.class);
        assertThat(stage.replayReject(new RejectId(77, 0), "Ada")).isInstanceOf(Outcome.Unknown.class);
    }

    @Test
    void replay_byManyAtTheSameTime_isStoredOnce() throws Exception {
        publish(reading(strange, 7));
        RejectId id = onlyReject();
        mend();
        await().atMost(Duration.ofSeconds(60)).untilAsserted(() -> {
            publish(reading(strange, 8));
            assertThat(valuesSince()).as("the mend is in force").contains(8.0);
        });

        var threads = Executors.newFixedThreadPool(4);
        Callable<Outcome> ask = () -> {
            try {
                return stage.replayReject(id, "one of four");
            } catch (KafkaException putOut) {
                return new Outcome.Unknown();
            }
        };
        for (Future<Outcome> each : threads.invokeAll(List.of(ask, ask, ask, ask))) {
            each.get(60, TimeUnit.SECONDS);
        }
        threads.shutdown();
        stage.replayReject(id, "the last");

        assertThat(valuesSince().stream().filter(value -> value == 7))
                .as("whatever was aborted is not read")
                .hasSize(1);
    }
}
