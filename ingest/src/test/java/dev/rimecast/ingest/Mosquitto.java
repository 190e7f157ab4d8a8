package dev.rimecast.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.jspecify.annotations.Nullable;

/**
 * A broker of the Debian package in a process of its own that keeps what waits on disk. Skipped where there is none;
 * with {@code RIMECAST_REQUIRE_MOSQUITTO=true} that is a failure.
 */
final class Mosquitto implements AutoCloseable {
    private final Path program;
    private final Path directory;
    private final int port = freePort();
    private @Nullable Process process;

    private Mosquitto(Path program, Path directory) {
        this.program = program;
        this.directory = directory;
    }

    /** Makes one, not started yet. */
    static Mosquitto in(Path directory, String... settings) throws IOException {
        Mosquitto broker = new Mosquitto(require("mosquitto"), directory);
        List<String> lines = new ArrayList<>(List.of(
                "listener " + broker.port + " 127.0.0.1",
                "persistence true",
                "persistence_location " + directory + "/",
                "max_inflight_messages 2000",
                "max_queued_messages 1000000",
                // Started by root it would become a user that can't write into the directory.
                "user root",
                "log_dest file " + directory.resolve("mosquitto.log")));
        lines.addAll(List.of(settings));
        Files.write(directory.resolve("mosquitto.conf"), lines);
        return broker;
    }

    static Path require(String program) {
        Optional<Path> found = Stream.concat(
                        Stream.of("/usr/sbin"), Stream.of(System.getenv("PATH").split(File.pathSeparator, -1)))
                .map(folder -> Path.of(folder, program))
                .filter(Files::isExecutable)
                .findFirst();
        if (found.isEmpty()) {
            System.out.println(
                    "skipped: " + program + " is not installed (Debian packages mosquitto-clients, mosquitto)");
            assertThat(System.getenv("RIMECAST_REQUIRE_MOSQUITTO")).isNotEqualTo("true");
        }
        assumeTrue(found.isPresent(), program + " is not installed");
        return found.orElseThrow();
    }

    private static int freePort() {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    int port() {
        return port;
    }

    void start() throws IOException {
        process = new ProcessBuilder(
                        program.toString(),
                        "-c",
                        directory.resolve("mosquitto.conf").toString())
                .inheritIO()
                .start();
        Awaitility.await("broker listens").atMost(Duration.ofSeconds(60)).until(this::listens);
    }

    private boolean listens() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    /** Has it write what waits to disk, as it does by itself from time to time (mosquitto(8), SIGUSR1). */
    void save() throws IOException, InterruptedException {
        Path saved = directory.resolve("mosquitto.db");
        Instant before = Files.exists(saved) ? Files.getLastModifiedTime(saved).toInstant() : Instant.EPOCH;
        new ProcessBuilder("kill", "-USR1", Long.toString(running().pid()))
                .start()
                .waitFor();
        // It writes another file and renames it: a newer one is a whole one. It may wait for the next packet to look.
        Awaitility.await("saved")
                .atMost(Duration.ofSeconds(60))
                .until(() -> listens()
                        && Files.exists(saved)
                        && Files.getLastModifiedTime(saved).toInstant().isAfter(before));
    }

    /** As {@code kill -9}. */
    void kill() throws InterruptedException {
        running().destroyForcibly();
        running().waitFor(10, TimeUnit.SECONDS);
    }

    private Process running() {
        return Objects.requireNonNull(process, "not started");
    }

    @Override
    public void close() {
        if (process != null) {
            process.destroyForcibly();
        }
    }
}
