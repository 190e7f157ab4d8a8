package dev.rimecast.app.command;

import dev.rimecast.app.demo.Demo;
import dev.rimecast.app.server.ServerSettings;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** The whole product with a simulated fleet. */
@Command(
        name = "demo",
        mixinStandardHelpOptions = true,
        description = {
            "Starts the whole product with 24 simulated machines of an invented firm, which publish over real MQTT. It"
                    + " lives through the last weeks in a few minutes, then goes on in real time. Ctrl-C stops it, and"
                    + " the next start goes on where it stopped.",
        },
        footer = ExitCode.FOOTER)
final class DemoCommand implements Callable<Integer> {
    private static final String MARK = "demo.properties";

    @Option(
            names = "--data",
            paramLabel = "DIR",
            defaultValue = "data/demo",
            description = "Where it keeps its data (default: ${DEFAULT-VALUE}).")
    Path data = Path.of("data/demo");

    @Option(
            names = "--port",
            defaultValue = "8080",
            description = "Port of the pages; 0 takes a free one (default: ${DEFAULT-VALUE}).")
    int port;

    @Option(
            names = "--mqtt-port",
            defaultValue = "1883",
            description = "Port where gateways connect; 0 takes a free one (default: ${DEFAULT-VALUE}).")
    int mqttPort;

    @Option(
            names = "--days",
            defaultValue = "45",
            description = "Days of the past at the first start (default: ${DEFAULT-VALUE}).")
    int days;

    @Option(names = "--fresh", description = "Delete the data of an earlier demonstration first.")
    boolean fresh;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException, InterruptedException {
        if (days < 1 || days > 45) {
            throw new InputException("--days must be from 1 to 45, was " + days);
        }
        PrintWriter out = Output.of(spec);
        if (fresh) {
            startOver();
        }
        Files.createDirectories(data);
        out.println("Starting the demonstration in " + data.toAbsolutePath() + " …");
        out.flush();
        UntilStopped untilStopped = new UntilStopped();
        Demo demo = Demo.start(
                data,
                new ServerSettings.Address("127.0.0.1", port),
                new ServerSettings.Address("127.0.0.1", mqttPort),
                days,
                out,
                untilStopped::failed);
        untilStopped.closing(demo);
        out.println("Rimecast is at http://localhost:" + demo.httpPort() + "  (Ctrl-C stops it)");
        out.flush();
        demo.run();
        return untilStopped.await();
    }

    /** Deletes an earlier demonstration, and nothing that does not look like one. */
    private void startOver() throws IOException {
        if (!Files.exists(data)) {
            return;
        }
        try (Stream<Path> inside = Files.list(data)) {
            if (!Files.exists(data.resolve(MARK)) && inside.findAny().isPresent()) {
                throw new InputException(data + " does not look like the data of a demonstration (it has no " + MARK
                        + "): delete it yourself if it may go, or choose another with --data");
            }
        }
        try (Stream<Path> all = Files.walk(data)) {
            all.sorted(Comparator.reverseOrder()).forEach(DemoCommand::delete);
        }
    }

    private static void delete(Path path) {
        try {
            Files.delete(path);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
