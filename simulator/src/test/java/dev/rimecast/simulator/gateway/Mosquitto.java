package dev.rimecast.simulator.gateway;

import static org.assertj.core.api.Assertions.fail;

import java.io.File;
import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Assumptions;

/** A broker of the Debian package in a process of its own, with the package's defaults, on a free port. */
final class Mosquitto implements AutoCloseable {
    private static final String REQUIRED = "RIMECAST_REQUIRE_MOSQUITTO";

    private final Path program;
    private final Path configuration;
    private final int port;
    private Process process;

    private Mosquitto(Path program, Path configuration, int port) throws IOException {
        this.program = program;
        this.configuration = configuration;
        this.port = port;
        process = launch();
    }

    /** Starts one; the test is skipped, or fails where the environment demands it, if there is none. */
    static Mosquitto start(Path directory) throws IOException {
        Optional<Path> program = find();
        if (program.isEmpty()) {
            String reason = "mosquitto is neither in /usr/sbin nor on the PATH";
            if ("true".equals(System.getenv(REQUIRED))) {
                fail(reason + ", and " + REQUIRED + " is true");
            }
            System.out.println("Skipped: " + reason);
            Assumptions.abort(reason);
        }
        int port = freePort();
        Path configuration = directory.resolve("mosquitto.conf");
        Files.writeString(configuration, "listener " + port + " 127.0.0.1\nallow_anonymous true\n");
        return new Mosquitto(program.orElseThrow(), configuration, port);
    }

    private static Optional<Path> find() {
        String path = Optional.ofNullable(System.getenv("PATH")).orElse("");
        return Stream.concat(Stream.of("/usr/sbin"), Stream.of(path.split(File.pathSeparator)))
                .map(directory -> Path.of(directory, "mosquitto"))
                .filter(Files::isExecutable)
                .findFirst();
    }

    private static int freePort() throws IOException {
        try (ServerSocket socket = new ServerSocket(0, 1, InetAddress.getLoopbackAddress())) {
            return socket.getLocalPort();
        }
    }

    private Process launch() throws IOException {
        Process started = new ProcessBuilder(program.toString(), "-c", configuration.toString())
                .redirectErrorStream(true)
                .redirectOutput(configuration.resolveSibling("mosquitto.log").toFile())
                .start();
        Awaitility.await("broker listens").atMost(Duration.ofSeconds(60)).until(this::listens);
        return started;
    }

    private boolean listens() {
        try (Socket socket = new Socket(InetAddress.getLoopbackAddress(), port)) {
            return socket.isConnected();
        } catch (IOException e) {
            return false;
        }
    }

    String uri() {
        return "tcp://127.0.0.1:" + port;
    }

    /** Kills it and starts it again; it remembers nothing. */
    void restart() throws IOException, InterruptedException {
        stop();
        process = launch();
    }

    void stop() throws InterruptedException {
        process.destroyForcibly();
        process.waitFor(10, TimeUnit.SECONDS);
    }

    @Override
    public void close() {
        process.destroyForcibly();
    }
}
