package dev.rimecast.app.spine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.app.server.LoopbackSettings;
import dev.rimecast.app.server.Server;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Messages of a client that we did not write end as an alert on the page. */
class ForeignClientIT {
    @TempDir
    Path directory;

    private @Nullable Server server;

    @BeforeEach
    void start() throws IOException {
        OptionalParts.mosquittoPub();
        Path register = directory.resolve("machines.csv");
        Files.writeString(register, """
                machine,site,gateway,condensing_limit_c
                kitchen-3,ward,gw-3,65
                kitchen-5,ward,gw-5,65
                """);
        server = Server.start(
                LoopbackSettings.of(directory.resolve("data"), register),
                InstantSource.system(),
                Optional::empty,
                failure -> {});
    }

    @AfterEach
    void stop() {
        if (server != null) {
            server.close();
        }
    }

    @ParameterizedTest
    @CsvSource({"mqttv311, gw-3, kitchen-3", "mqttv5, gw-5, kitchen-5"})
    void pub_condenserOverItsLimit_isAnAlertOnThePage(String version, String gateway, String machine) throws Exception {
        publishHotCondenser(version, gateway, machine);

        String alerts = "/api/v1/alerts?machine=" + machine;
        Http http = Http.of(running());
        await().atMost(Duration.ofSeconds(60))
                .untilAsserted(() -> assertThat(http.get(alerts)).contains("high-condensing-temperature"));
        assertThat(textOfThePage(machine)).contains(machine, "70");
    }

    @Test
    void pub_whatIsNotSenml_isRejectedAndNothingElseStops() throws Exception {
        publish("mqttv5", "gw-5", "this is not a pack");
        publishHotCondenser("mqttv5", "gw-5", "kitchen-5");

        String alerts = "/api/v1/alerts?machine=kitchen-5";
        Http http = Http.of(running());
        await().atMost(Duration.ofSeconds(60))
                .untilAsserted(() -> assertThat(http.get(alerts)).contains("high-condensing-temperature"));
        assertThat(http.get("/metrics"))
                .containsPattern("rimecast_ingest_records_rejected_total\\{reason=\"not-senml\"} 1\\.0");
    }

    private Server running() {
        return Objects.requireNonNull(server, "not started");
    }

    private void publishHotCondenser(String version, String gateway, String machine) throws Exception {
        Instant start = Instant.now().truncatedTo(ChronoUnit.SECONDS).minus(Duration.ofMinutes(10));
        for (int minute = 0; minute <= 10; minute++) {
            long at = start.plus(Duration.ofMinutes(minute)).getEpochSecond();
            publish(
                    version,
                    gateway,
                    "[{\"bn\":\"" + machine + "/\",\"bt\":" + at
                            + ",\"n\":\"evaporator_temperature\",\"u\":\"Cel\",\"v\":-4.5},"
                            + "{\"n\":\"condenser_temperature\",\"u\":\"Cel\",\"v\":70.5},"
                            + "{\"n\":\"phase\",\"vs\":\"freeze\"}]");
        }
    }

    private void publish(String version, String gateway, String payload) throws Exception {
        Process pub = new ProcessBuilder(
                        OptionalParts.mosquittoPub().toString(),
                        "-V",
                        version,
                        "-h",
                        "127.0.0.1",
                        "-p",
                        Integer.toString(running().mqttPort()),
                        "-q",
                        "1",
                        "-i",
                        gateway,
                        "-t",
                        "fleet/" + gateway + "/senml",
                        "-m",
                        payload)
                .redirectErrorStream(true)
                .redirectOutput(directory.resolve("pub.log").toFile())
                .start();
        assertThat(pub.waitFor(20, TimeUnit.SECONDS)).isTrue();
        assertThat(pub.exitValue())
                .as(Files.readString(directory.resolve("pub.log")))
                .isZero();
    }

    private String textOfThePage(String machine) {
        try (Chromium browser = Chromium.open(directory.resolve("browser-" + machine))) {
            Http http = Http.of(running());
            browser.enter(http.address(), http);
            browser.go(http.address() + "/");
            return browser.text("body", machine);
        }
    }
}
