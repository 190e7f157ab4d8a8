package dev.rimecast.engines;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/** The server that runs on a data directory, as its {@code postmaster.pid} and the process table show it. */
final class PostgresProcess {
    private PostgresProcess() {}

    /**
     * The running server of {@code cluster}. A pid file whose server is gone, or whose number belongs to another
     * program by now (numbers start anew after a reboot), counts as none.
     */
    static Optional<ProcessHandle> on(Path cluster) throws IOException {
        Path file = pidFile(cluster);
        if (!Files.exists(file)) {
            return Optional.empty();
        }
        List<String> lines = Files.readAllLines(file);
        if (lines.isEmpty() || !lines.get(0).strip().matches("[0-9]{1,10}")) {
            return Optional.empty();
        }
        return ProcessHandle.of(Long.parseLong(lines.get(0).strip()))
                .filter(ProcessHandle::isAlive)
                .filter(process -> isServer(process, cluster));
    }

    static Path pidFile(Path cluster) {
        return cluster.resolve("postmaster.pid");
    }

    private static boolean isServer(ProcessHandle process, Path cluster) {
        Path commandLine = Path.of("/proc", String.valueOf(process.pid()), "cmdline");
        if (Files.isReadable(commandLine)) {
            try {
                String text = Files.readString(commandLine);
                return text.contains("postgres") && text.contains(cluster.toString());
            } catch (IOException endedMeanwhile) {
                return false;
            }
        }
        return process.info().command().filter(c -> c.endsWith("postgres")).isPresent();
    }
}
