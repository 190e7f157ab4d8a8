package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Machine;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.eclipse.paho.mqttv5.common.MqttMessage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How many packs a second go from gateways into a Kafka that forces every batch to disk, client, broker and all. */
class ThroughputIT {
    private static final int GATEWAYS = 4;
    private static final int PACKS = 10_000;
    /** A fleet of 10,000 machines sends 167 packs a second; below it something is broken, whatever the machine. */
    private static final double FLOOR_PER_SECOND = 200;

    @TempDir
    Path directory;

    @Test
    void packs_areTakenFasterThanATenThousandMachinesSendThem() throws Exception {
        Instant now = Instant.parse("2026-05-04T12:00:00Z");
        SimpleMeterRegistry meters = new SimpleMeterRegistry();
        try (KafkaFixture kafka = new KafkaFixture(directory)) {
            kafka.register(
                    Machine.basic("ice-0", "site-0", "gw-0"),
                    Machine.basic("ice-1", "site-1", "gw-1"),
                    Machine.basic("ice-2", "site-2", "gw-2"),
                    Machine.basic("ice-3", "site-3", "gw-3"));
            try (IngestStage stage = IngestStage.start(
                    IngestSettings.standard(kafka.client())
                            .withMqtt("127.0.0.1", 0)
                            .withoutRateLimit(),
                    () -> now,
                    meters)) {
                assertThat(stage.awaitReady(Duration.ofSeconds(30))).isTrue();
                double warm = run(stage, now, PACKS / 5);
                double rate = run(stage, now, PACKS);
                System.out.printf(
                        "measured: %.0f packs/s of 8 readings, %d connections (warm-up %.0f)%n", rate, GATEWAYS, warm);
                assertThat(rate).isGreaterThan(FLOOR_PER_SECOND);
            }
        }
        assertThat(meters.get("rimecast.ingest.records.stored").counter().count())
                .isEqualTo(8.0 * GATEWAYS * (PACKS + PACKS / 5));
    }

    private static double run(IngestStage stage, Instant now, int packs) throws Exception {
        List<Load> loads = new ArrayList<>();
        for (int i = 0; i < GATEWAYS; i++) {
            byte[] payload = Senml.usual("ice-" + i, now);
            loads.add(new Load(stage.mqttPort(), "gw-" + i, packs, seq -> new MqttMessage(payload, 1, false, null)));
        }
        long start = System.nanoTime();
        loads.forEach(load -> new Thread(load).start());
        for (Load load : loads) {
            assertThat(load.await(300)).isTrue();
        }
        double seconds = (System.nanoTime() - start) / 1e9;
        for (Load load : loads) {
            load.close();
        }
        return GATEWAYS * packs / seconds;
    }
}
