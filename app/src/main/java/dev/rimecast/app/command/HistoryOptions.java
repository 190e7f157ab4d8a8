package dev.rimecast.app.command;

import dev.rimecast.history.query.History;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import picocli.CommandLine.Option;

/** Where the history is, and what reading it may take. */
final class HistoryOptions {
    private static final Path OF_DEMO = Path.of("data", "demo", "server", "history");

    @Option(
            names = "--history",
            paramLabel = "DIR",
            description = "Where it is: 'history' in a server's data directory (default: data/history, or that of the"
                    + " demonstration where there is none).")
    Optional<Path> directory = Optional.empty();

    @Option(
            names = "--memory",
            paramLabel = "MB",
            defaultValue = "512",
            description = "What the database may use; more goes to temporary files (default: ${DEFAULT-VALUE}).")
    int memory = 512;

    @Option(
            names = "--without-damaged",
            description = "Leave files out that are cut off or missing, instead of refusing.")
    boolean withoutDamaged;

    @Option(
            names = "--check",
            description = "Read every file first and hold it against its sum: tells of bytes that the disk has altered,"
                    + " too.")
    boolean check;

    History open() {
        if (memory < 64) {
            throw new InputException("--memory must be at least 64, was " + memory);
        }
        return History.open(root(), memory, withoutDamaged, check);
    }

    private Path root() {
        return directory.orElseGet(() -> {
            Map<String, String> environment = System.getenv();
            Path own = Path.of(environment.getOrDefault("RIMECAST_DATA_DIRECTORY", "data"), "history");
            return !Files.exists(own) && Files.exists(OF_DEMO) ? OF_DEMO : own;
        });
    }
}
