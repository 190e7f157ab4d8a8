package dev.rimecast.engines;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletionException;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** One data directory of the server and what can be done to it: make, start, find, stop. */
final class PostgresServer {
    private static final Logger LOG = LoggerFactory.getLogger(PostgresServer.class);
    private static final long LOG_BYTES_MAX = 8 << 20;
    /** Recovery after a kill replays at most {@code max_wal_size}: seconds, but a slow disk may need longer. */
    private static final Duration START_LIMIT = Duration.ofSeconds(120);

    private final Path directory;
    private final PostgresBinaries binaries;
    private final PostgresCommand command;

    PostgresServer(Path directory, PostgresBinaries binaries, PostgresCommand command) {
        this.directory = directory;
        this.binaries = binaries;
        this.command = command;
    }

    Path cluster() {
        return directory.resolve("cluster");
    }

    /** Makes the data directory if there is none; whole or not at all. */
    void initialise(String superuser, Path passwordFile) throws IOException {
        Path version = cluster().resolve("PG_VERSION");
        if (Files.exists(version)) {
            String major = Files.readString(version).strip();
            if (!major.equals(PostgresBinaries.MAJOR_VERSION)) {
                throw new EngineException("the data in " + cluster() + " is of PostgreSQL " + major + ", this is "
                        + PostgresBinaries.MAJOR_VERSION
                        + ": restore it from a backup that the older release of this product makes");
            }
            return;
        }
        Path half = directory.resolve("cluster.new");
        PostgresBinaries.deleteTree(half);
        command.run(
                START_LIMIT,
                List.of(
                        binaries.program("initdb"),
                        "--pgdata=" + half,
                        "--username=" + superuser,
                        "--pwfile=" + passwordFile,
                        "--auth=scram-sha-256",
                        "--encoding=UTF8",
                        "--locale=C",
                        "--locale-provider=builtin",
                        "--builtin-locale=C.UTF-8"));
        Files.move(half, cluster(), StandardCopyOption.ATOMIC_MOVE);
    }

    /** The port of a server that runs here with exactly the settings wanted; 0 if there is none. */
    int runningOn(KeptPorts kept, PostgresSettings settings) throws IOException {
        List<Integer> ports = kept.read();
        if (ports.size() != 1 || PostgresProcess.on(cluster()).isEmpty()) {
            return 0;
        }
        String wanted = config(ports.get(0), settings);
        Path file = cluster().resolve("postgresql.conf");
        return Files.exists(file) && Files.readString(file).equals(wanted) ? ports.get(0) : 0;
    }

    /** Starts and waits until it takes connections. */
    void start(int port, PostgresSettings settings) throws IOException {
        Files.deleteIfExists(PostgresProcess.pidFile(cluster()));
        Files.writeString(cluster().resolve("postgresql.conf"), config(port, settings));
        Files.writeString(cluster().resolve("pg_hba.conf"), PostgresConfig.HOST_ACCESS);
        Path log = directory.resolve("server.log");
        if (Files.exists(log) && Files.size(log) > LOG_BYTES_MAX) {
            Files.move(log, directory.resolve("server.log.1"), StandardCopyOption.REPLACE_EXISTING);
        }
        long logStart = Files.exists(log) ? Files.size(log) : 0;
        try {
            // Through pg_ctl the server gets a session of its own: a Ctrl-C at the terminal does not reach it.
            command.run(
                    START_LIMIT.plusSeconds(5),
                    List.of(
                            binaries.program("pg_ctl"),
                            "start",
                            "--pgdata=" + cluster(),
                            "--log=" + log,
                            "--wait",
                            "--timeout=" + START_LIMIT.toSeconds(),
                            "--silent"));
        } catch (EngineException e) {
            throw new EngineException("PostgreSQL did not start: " + newLines(log, logStart), e);
        }
    }

    private String config(int port, PostgresSettings settings) {
        return PostgresConfig.text(port, String.valueOf(binaries.directory().getFileName()), settings);
    }

    private static String newLines(Path log, long from) throws IOException {
        if (!Files.exists(log)) {
            return "no output";
        }
        byte[] all = Files.readAllBytes(log);
        return new String(all, (int) from, all.length - (int) from, java.nio.charset.StandardCharsets.UTF_8).strip();
    }

    /** Stops a server that runs here, with open connections cut; what was committed stays. */
    void stopIfRunning() throws IOException {
        Optional<ProcessHandle> running = PostgresProcess.on(cluster());
        if (running.isEmpty()) {
            return;
        }
        try {
            stop("fast", 10);
        } catch (EngineException e) {
            LOG.warn("PostgreSQL did not stop in order, ending it at once; it will recover at the next start", e);
            stop("immediate", 5);
        }
        awaitEnd(running.get());
    }

    private void stop(String mode, int seconds) throws IOException {
        command.run(
                Duration.ofSeconds(seconds + 2L),
                List.of(
                        binaries.program("pg_ctl"),
                        "stop",
                        "--pgdata=" + cluster(),
                        "--mode=" + mode,
                        "--wait",
                        "--timeout=" + seconds,
                        "--silent"));
    }

    private static void awaitEnd(ProcessHandle process) {
        try {
            process.onExit().orTimeout(5, TimeUnit.SECONDS).join();
        } catch (CompletionException e) {
            if (e.getCause() instanceof TimeoutException) {
                throw new EngineException("PostgreSQL's process " + process.pid() + " has not ended", e);
            }
            throw e;
        }
    }
}
