package dev.rimecast.app.faults;

import static org.awaitility.Awaitility.await;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.ServerSocket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/** {@code rimecast serve} in a process of its own, to be killed. Its ports stay the same over restarts. */
public final class ServeProcess implements AutoCloseable {
    private final Path directory;
    private final Path data;
    private final Path config;
    private final int httpPort = freePort();
    private final int mqttPort = freePort();
    private @Nullable Process process;
    private int starts;

    private ServeProcess(Path directory, Path data, Path config) {
        this.directory = directory;
        this.data = data;
        this.config = config;
    }

    /** @param more sections of the configuration beside data, dashboard and mqtt */
    static ServeProcess with(Path directory, String more) throws IOException {
        return with(directory, directory.resolve("data"), "", more);
    }

    /**
     * @param data where it keeps its data
     * @param moreOfData lines of the section {@code data}, each with two spaces before it
     */
    static ServeProcess with(Path directory, Path data, String moreOfData, String more) throws IOException {
        Path config = directory.resolve("rimecast.yaml");
        ServeProcess made = new ServeProcess(directory, data, config);
        Files.writeString(
                config,
                "data:\n  directory: " + data + "\n" + moreOfData + "dashboard:\n  port: " + made.httpPort
                        + "\nmqtt:\n  port: " + made.mqttPort + "\n  packs-per-second: 0\n" + more);
        return made;
    }

    /**
     * One that has some of the roles, and no engines: health and metrics are at {@link #httpPort} whether it has pages or not.
     *
     * @param more sections of the configuration: roles, Kafka, the database
     */
    static ServeProcess alone(Path directory, String more) throws IOException {
        Path config = directory.resolve("rimecast.yaml");
        ServeProcess made = new ServeProcess(directory, directory.resolve("data"), config);
        boolean hasPages = more.contains("dashboard");
        Files.writeString(
                config,
                "data:\n  directory: " + made.data + '\n' + (hasPages ? "dashboard" : "management") + ":\n  port: "
                        + made.httpPort + "\nmqtt:\n  port: " + made.mqttPort + "\n  packs-per-second: 0\n" + more);
        return made;
    }

    /** One that nobody listens on now. */
    public static int freePort() {
        try (ServerSocket socket = new ServerSocket(0)) {
            return socket.getLocalPort();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    Path data() {
        return data;
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

    /** Returns when it says that it does all that it is there for. */
    void awaitReady(Duration limit) {
        HttpClient client = HttpClient.newHttpClient();
        HttpRequest question = HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + httpPort + "/readyz"))
                .timeout(Duration.ofSeconds(5))
                .build();
        await().atMost(limit)
                .pollInterval(Duration.ofMillis(250))
                .ignoreExceptions()
                .until(() -> client.send(question, HttpResponse.BodyHandlers.discarding())
                                .statusCode()
                        == 200);
    }

    private Process running() {
        return Objects.requireNonNull(process, "not started");
    }

    /** What it printed since its last start. */
    String output() throws IOException {
        return Files.readString(directory.resolve("serve-" + starts + ".log"));
    }

    /** What it printed since its first start. */
    String allOutput() throws IOException {
        StringBuilder all = new StringBuilder();
        for (int start = 1; start <= starts; start++) {
            all.append(Files.readString(directory.resolve("serve-" + start + ".log")));
        }
        return all.toString();
    }

    /** Stops its clockwork without a word, as a virtual machine that is moved does. */
    void pause() throws IOException, InterruptedException {
        signal("STOP");
    }

    /** Ends the pause. */
    void goOn() throws IOException, InterruptedException {
        signal("CONT");
    }

    private void signal(String name) throws IOException, InterruptedException {
        Process kill = new ProcessBuilder(
                        "kill", "-" + name, Long.toString(running().pid()))
                .inheritIO()
                .start();
        if (kill.waitFor() != 0) {
            throw new IOException("kill -" + name + " ended with " + kill.exitValue());
        }
    }

    /** What it holds of the machine's memory, as Linux has it. */
    long residentKibibytes() throws IOException {
        return status("VmRSS:");
    }

    long threads() throws IOException {
        return status("Threads:");
    }

    private long status(String name) throws IOException {
        return Files.readAllLines(Path.of("/proc/" + running().pid() + "/status")).stream()
                .filter(line -> line.startsWith(name))
                .mapToLong(line -> Long.parseLong(line.replaceAll("\\D", "")))
                .findFirst()
                .orElseThrow();
    }

    boolean isAlive() {
        return process != null && process.isAlive();
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
