package dev.rimecast.app.spine;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/** {@code rimecast serve} in a process of its own, to be killed. Its ports stay the same over restarts. */
final class ServeProcess implements AutoCloseable {
    private final Path directory;
    private final Path config;
    private final int httpPort = freePort();
    private final int mqttPort = freePort();
    private @Nullable Process process;
    private int starts;

    private ServeProcess(Path directory, Path config) {
        this.directory = directory;
        this.config = config;
    }

    /** @param fleet lines of the section {@code fleet}, e.g. {@code register: machines.csv} */
    static ServeProcess in(Path directory, String... fleet) throws IOException {
        Path config = directory.resolve("rimecast.yaml");
        ServeProcess made = new ServeProcess(directory, config);
        Files.writeString(
                config,
                "data:\n  directory: data\ndashboard:\n  port: " + made.httpPort + "\nmqtt:\n  port: " + made.mqttPort
                        + "\n  packs-per-second: 0\nfleet:\n  " + String.join("\n  ", fleet) + "\n");
        return made;
    }

    static int freePort() {
        try (ServerSocket socket = new ServerSocket(0)) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    Path data() {
        return directory.resolve("data");
    }

    int httpPort() {
        return httpPort;
    }

    int mqttPort() {
        return mqttPort;
    }

    /** Starts it and returns at once. */
    void start() throws IOException {
        starts++;
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx512m",
                "-XX:+UseSerialGC",
                "-cp",
                System.getProperty("java.class.path"),
                "dev.rimecast.app.Rimecast",
                "serve",
                "--config",
                config.toString()));
        process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(directory.resolve("serve-" + starts + ".log").toFile())
                .start();
    }

    private Process running() {
        return Objects.requireNonNull(process, "not started");
    }

    boolean isAlive() {
        return running().isAlive();
    }

    /** What it printed since its last start. */
    String output() throws IOException {
        return Files.readString(directory.resolve("serve-" + starts + ".log"));
    }

    /** As {@code kill -9} of the process: the database's server, a process of its own, lives on. */
    void kill() throws InterruptedException {
        running().destroyForcibly();
        running().waitFor();
    }

    /** Kills the database's server, too, as a power cut would. */
    void killWithDatabase() throws IOException, InterruptedException {
        long postmaster = Long.parseLong(Files.readAllLines(data().resolve("postgres/cluster/postmaster.pid"))
                .get(0)
                .strip());
        kill();
        ProcessHandle.of(postmaster).ifPresent(ProcessHandle::destroyForcibly);
    }

    /** As Ctrl-C. */
    boolean stop(Duration limit) throws InterruptedException {
        running().destroy();
        return running().waitFor(limit.toMillis(), TimeUnit.MILLISECONDS);
    }

    @Override
    public void close() throws InterruptedException {
        if (process != null && running().isAlive() && !stop(Duration.ofSeconds(15))) {
            kill();
        }
    }
}
