package dev.rimecast.app.faults;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;

/** The process of {@link LoadGenerator}, from outside. */
final class Generator implements AutoCloseable {
    private final Path directory;
    private final String uri;
    private @Nullable Process process;
    private final Optional<Path> keys;
    private int starts;

    Generator(Path directory, String uri) throws IOException {
        this(directory, uri, Optional.empty());
    }

    /** @param keys where each gateway's secret is, as {@code NAME.secret} */
    Generator(Path directory, String uri, Optional<Path> keys) throws IOException {
        this.directory = Files.createDirectories(directory);
        this.uri = uri;
        this.keys = keys;
    }

    Path ledger() {
        return LoadGenerator.ledger(directory);
    }

    void start() throws IOException {
        starts++;
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx128m",
                "-XX:+UseSerialGC",
                "-cp",
                System.getProperty("java.class.path"),
                LoadGenerator.class.getName(),
                uri,
                directory.toString()));
        keys.ifPresent(each -> command.add(each.toString()));
        process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(
                        directory.resolve("generator-" + starts + ".log").toFile())
                .start();
    }

    void hot(int liveSite) throws IOException {
        say("hot " + liveSite);
    }

    private void say(String command) throws IOException {
        OutputStream commands = running().getOutputStream();
        commands.write((command + '\n').getBytes(StandardCharsets.UTF_8));
        commands.flush();
    }

    /** As {@code kill -9}. */
    void kill() throws InterruptedException {
        running().destroyForcibly();
        running().waitFor();
    }

    /** Ends the load; whether everything it has sent was covered in time. */
    boolean drain(Duration limit) throws IOException, InterruptedException {
        say("stop");
        return running().waitFor(limit.toMillis(), TimeUnit.MILLISECONDS)
                && running().exitValue() == 0;
    }

    boolean isAlive() {
        return running().isAlive();
    }

    private Process running() {
        return Objects.requireNonNull(process, "not started");
    }

    @Override
    public void close() throws InterruptedException {
        if (process != null) {
            kill();
        }
    }
}
