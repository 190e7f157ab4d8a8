package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.ingest.disk.DiskGuard;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import java.util.concurrent.atomic.AtomicReference;
import org.awaitility.core.ConditionTimeoutException;
import org.eclipse.paho.mqttv5.client.IMqttToken;
import org.eclipse.paho.mqttv5.client.MqttAsyncClient;
import org.eclipse.paho.mqttv5.client.MqttConnectionOptions;
import org.eclipse.paho.mqttv5.client.MqttToken;
import org.eclipse.paho.mqttv5.client.persist.MemoryPersistence;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A disk that has no room for a while, by a source that the test answers for; real Kafka and gateways. */
class FullDiskIT {
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:30Z");

    @TempDir
    Path directory;

    private final AtomicLong free = new AtomicLong(1_000_000_000);
    private IMqttToken last = new MqttToken();
    private final AtomicReference<Instant> now = new AtomicReference<>(NOW);

    @Test
    void gateways_whileTheDiskIsFull_keepTheirPacks_andNothingIsLostAfterwards() throws Exception {
        try (KafkaFixture kafka = new KafkaFixture(directory)) {
            kafka.register(Machine.basic("ice-1", "harbour", "gw-1"));
            try (IngestStage stage = IngestStage.start(
                    IngestSettings.standard(kafka.client())
                            .withMqtt("127.0.0.1", 0)
                            .withoutRateLimit()
                            .withDisk(new DiskGuard(free::get, 500_000_000)),
                    now::get,
                    new SimpleMeterRegistry())) {
                assertThat(stage.awaitReady(Duration.ofSeconds(30))).isTrue();
                MqttAsyncClient client =
                        new MqttAsyncClient("tcp://127.0.0.1:" + stage.mqttPort(), "c", new MemoryPersistence());
                client.connect(new MqttConnectionOptions()).waitForCompletion(5_000);
                publish(client, 1).waitForCompletion(10_000);

                free.set(400_000_000);
                await().until(() -> !stage.health().isWell());
                assertThat(stage.health().inWords())
                        .contains("nothing is taken in", "400 MB left", "gateways keep their packs");
                int taken = untilNothingIsTaken(client);
                List<IMqttToken> waiting = new ArrayList<>(List.of(last));
                for (int n = taken + 2; n <= 50; n++) {
                    waiting.add(publish(client, n));
                }
                now.set(NOW.plus(Duration.ofMinutes(5)));
                await().during(Duration.ofSeconds(2))
                        .atMost(Duration.ofSeconds(60))
                        .until(() -> waiting.stream().noneMatch(IMqttToken::isComplete));
                assertThat(kafka.siteLog(SiteRecord.Pack.class)).hasSize(taken);
                assertThat(kafka.siteLog(SiteRecord.Tick.class))
                        .as("our own trouble is no silence of machines")
                        .isEmpty();

                free.set(700_000_000);
                await().atMost(Duration.ofSeconds(60))
                        .until(() -> waiting.stream().allMatch(IMqttToken::isComplete));
                assertThat(waiting).allMatch(token -> token.getException() == null);
                assertThat(stage.health().isWell()).isTrue();
                assertThat(kafka.siteLog(SiteRecord.Pack.class).stream()
                                .map(pack -> (int) pack.readings().get(0).value()))
                        .containsExactlyElementsOf(java.util.stream.IntStream.rangeClosed(1, 50)
                                .boxed()
                                .toList());
                await().until(() -> !kafka.siteLog(SiteRecord.Tick.class).isEmpty());
                client.disconnect().waitForCompletion(5_000);
            }
        }
    }

    /** What is on its way while the intake closes is still taken; how many were. */
    private int untilNothingIsTaken(MqttAsyncClient client) throws Exception {
        for (int n = 2; n < 40; n++) {
            last = publish(client, n);
            try {
                await().atMost(Duration.ofSeconds(1)).until(last::isComplete);
            } catch (ConditionTimeoutException notTaken) {
                return n - 1;
            }
        }
        throw new AssertionError("packs are still taken after 38");
    }

    private static IMqttToken publish(MqttAsyncClient client, int n) throws Exception {
        return client.publish(
                "fleet/gw-1/senml", new MqttMessage(Senml.pack("ice-1", NOW.plusSeconds(n), n), 1, false, null));
    }
}
