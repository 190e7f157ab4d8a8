package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.app.faults.ServeProcess;
import dev.rimecast.app.server.Role;
import dev.rimecast.app.server.Server;
import dev.rimecast.app.server.ServerSettings;
import dev.rimecast.ingest.broker.BrokerSettings;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The whole product without an endpoint of its own: packs reach it through a broker that others wrote. */
class BehindABrokerIT {
    private static final int PORT = ServeProcess.freePort();

    @TempDir
    Path directory;

    private @Nullable Process broker;
    private @Nullable Server server;

    @BeforeEach
    void requireParts() {
        OptionalParts.mosquitto();
        OptionalParts.mosquittoPub();
    }

    @AfterEach
    void stop() {
        if (server != null) {
            server.close();
        }
        if (broker != null) {
            broker.destroyForcibly();
        }
    }

    @Test
    void pub_throughABrokerThatComesLate_isSaidInHealth_andEndsAsAnAlert() throws Exception {
        Server running = start();
        Http http = Http.of(running);
        String status = "/api/v1/status";
        await().untilAsserted(
                        () -> assertThat(running.ingest().health().inWords()).contains("is away"));
        assertThat(http.get(status)).contains("\"state\":\"down\"", "is away");

        broker = new ProcessBuilder(OptionalParts.mosquitto().toString(), "-p", Integer.toString(PORT))
                .redirectErrorStream(true)
                .redirectOutput(directory.resolve("mosquitto.log").toFile())
                .start();
        await().atMost(Duration.ofSeconds(60))
                .untilAsserted(() -> assertThat(http.get(status)).contains("connected to the MQTT broker"));
        Instant start = Instant.now().truncatedTo(ChronoUnit.SECONDS).minus(Duration.ofMinutes(10));
        for (int minute = 0; minute <= 10; minute++) {
            publish(start.plus(Duration.ofMinutes(minute)));
        }

        String alerts = "/api/v1/alerts?machine=kitchen-3";
        await().atMost(Duration.ofSeconds(60))
                .untilAsserted(() -> assertThat(http.get(alerts)).contains("high-condensing-temperature"));
    }

    private Server start() throws IOException {
        Path register = directory.resolve("machines.csv");
        Files.writeString(register, "machine,site,gateway,condensing_limit_c\nkitchen-3,ward,gw-3,65\n");
        Server started = Server.start(
                new ServerSettings(
                        directory.resolve("data"),
                        Role.all(),
                        new ServerSettings.Address("127.0.0.1", 0),
                        new ServerSettings.Mqtt(
                                false,
                                new ServerSettings.Address("127.0.0.1", 0),
                                Optional.empty(),
                                0,
                                Optional.of(BrokerSettings.standard(
                                        "mqtt://127.0.0.1:" + PORT, "ingest-1", "rimecast", Optional.empty()))),
                        Optional.empty(),
                        ServerSettings.TopicShape.ONE_MACHINE,
                        Optional.empty(),
                        new ServerSettings.Files(Optional.of(register), Optional.empty(), Optional.empty())),
                InstantSource.system(),
                Optional::empty,
                failure -> {});
        server = started;
        return started;
    }

    private static void publish(Instant at) throws Exception {
        Process pub = new ProcessBuilder(
                        OptionalParts.mosquittoPub().toString(),
                        "-h",
                        "127.0.0.1",
                        "-p",
                        Integer.toString(PORT),
                        "-q",
                        "1",
                        "-t",
                        "fleet/gw-3/senml",
                        "-m",
                        "[{\"bn\":\"kitchen-3/\",\"bt\":" + at.getEpochSecond()
                                + ",\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":-4.5},"
                                + "{\"n\":\"condenser_temperature\",\"u\":\"Cel\",\"v\":70.5},"
                                + "{\"n\":\"phase\",\"vs\":\"freeze\"}]")
                .inheritIO()
                .start();
        assertThat(pub.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(pub.exitValue()).isZero();
    }
}
