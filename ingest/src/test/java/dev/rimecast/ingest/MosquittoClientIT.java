package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.io.File;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The endpoint against a client that others wrote, as a command. Skipped where {@code mosquitto_pub} is not installed;
 * with {@code RIMECAST_REQUIRE_MOSQUITTO=true} that is a failure.
 */
class MosquittoClientIT {
    private static final String COMMAND = "mosquitto_pub";
    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");

    @TempDir
    static Path directory;

    private static KafkaFixture kafka;
    private static IngestStage stage;

    @BeforeAll
    static void start() throws Exception {
        requireCommand();
        kafka = new KafkaFixture(directory);
        kafka.register(Machine.basic("ice-1", "harbour", "gw-1"));
        stage = IngestStage.start(
                IngestSettings.standard(kafka.client()).withMqtt("127.0.0.1", 0), () -> NOW, new SimpleMeterRegistry());
        assertThat(stage.awaitReady(Duration.ofSeconds(30))).isTrue();
    }

    @AfterAll
    static void stop() {
        if (stage != null) {
            stage.close();
        }
        if (kafka != null) {
            kafka.close();
        }
    }

    private static void requireCommand() {
        boolean isThere = Arrays.stream(System.getenv("PATH").split(File.pathSeparator, -1))
                .anyMatch(folder -> new File(folder, COMMAND).canExecute());
        if (!isThere) {
            System.out.println("skipped: " + COMMAND + " is not installed (Debian package mosquitto-clients)");
            assertThat(System.getenv("RIMECAST_REQUIRE_MOSQUITTO")).isNotEqualTo("true");
        }
        assumeTrue(isThere, COMMAND + " is not installed");
    }

    @Test
    void version311_qos1_isStoredWhenTheCommandEnds() throws Exception {
        String payload = new String(Senml.pack("ice-1", NOW, 311), StandardCharsets.UTF_8);
        assertThat(publish("-V", "mqttv311", "-q", "1", "-t", "fleet/gw-1/senml", "-m", payload))
                .isZero();

        assertThat(values()).contains(311.0);
    }

    @Test
    void version5_withANumber_isStoredWhenTheCommandEnds() throws Exception {
        String payload = new String(Senml.pack("ice-1", NOW, 5), StandardCharsets.UTF_8);
        assertThat(publish(
                        "-V",
                        "mqttv5",
                        "-q",
                        "1",
                        "-t",
                        "fleet/gw-1/senml",
                        "-m",
                        payload,
                        "-D",
                        "publish",
                        "user-property",
                        "boot",
                        "m",
                        "-D",
                        "publish",
                        "user-property",
                        "seq",
                        "9"))
                .isZero();

        assertThat(kafka.siteLog(SiteRecord.Pack.class))
                .anySatisfy(pack -> assertThat(pack.number()).contains(new PackNumber("m", 9)));
        assertThat(values()).contains(5.0);
    }

    @Test
    void qos2_ofVersion311_isStoredWhenTheCommandEnds() throws Exception {
        String payload = new String(Senml.pack("ice-1", NOW, 2), StandardCharsets.UTF_8);
        assertThat(publish("-V", "mqttv311", "-q", "2", "-t", "fleet/gw-1/senml", "-m", payload))
                .isZero();

        assertThat(values()).contains(2.0);
    }

    private static List<Double> values() {
        return kafka.siteLog(SiteRecord.Pack.class).stream()
                .flatMap(pack -> pack.readings().stream())
                .map(reading -> reading.value())
                .toList();
    }

    private static int publish(String... arguments) throws Exception {
        List<String> command = new ArrayList<>(List.of(COMMAND, "-h", "127.0.0.1", "-p", "" + stage.mqttPort()));
        command.addAll(List.of(arguments));
        Process process = new ProcessBuilder(command).inheritIO().start();
        assertThat(process.waitFor(20, TimeUnit.SECONDS)).isTrue();
        return process.exitValue();
    }
}
