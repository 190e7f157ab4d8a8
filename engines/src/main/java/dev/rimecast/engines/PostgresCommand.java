package dev.rimecast.engines;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** Runs the server's programs. They refuse to run as root, so root runs them in a user name space of their own. */
final class PostgresCommand {
    private static final List<String> OWN_USER_NAME_SPACE = List.of("unshare", "-U");

    private final Path directory;
    private final List<String> prefix;

    private PostgresCommand(Path directory, List<String> prefix) {
        this.directory = directory;
        this.prefix = prefix;
    }

    /**
     * @param directory where output is kept while a command runs
     * @param ownFile a file that this process has made, which tells who we are
     * @throws EngineException if we are root and can't have a user name space
     */
    static PostgresCommand in(Path directory, Path ownFile) throws IOException {
        if (!Integer.valueOf(0).equals(Files.getAttribute(ownFile, "unix:uid"))) {
            return new PostgresCommand(directory, List.of());
        }
        PostgresCommand root = new PostgresCommand(directory, OWN_USER_NAME_SPACE);
        try {
            root.run(Duration.ofSeconds(10), List.of("true"));
        } catch (EngineException e) {
            throw new EngineException(
                    "the embedded PostgreSQL does not run as root, and this system does not let root leave that role"
                            + " (unshare -U failed): run as another user, or use an outside PostgreSQL server",
                    e);
        }
        return root;
    }

    /**
     * Runs to the end and returns what was printed.
     *
     * @throws EngineException if it fails or takes longer than {@code limit}; the message has its output
     */
    String run(Duration limit, List<String> command) throws IOException {
        List<String> whole = new ArrayList<>(prefix);
        whole.addAll(command);
        // A file, not a pipe: a server that the command leaves behind would keep a pipe open.
        Path output = Files.createTempFile(directory, "command-", ".out");
        try {
            ProcessBuilder builder = new ProcessBuilder(whole)
                    .directory(directory.toFile())
                    .redirectErrorStream(true)
                    .redirectOutput(output.toFile());
            builder.environment().keySet().removeIf(name -> name.startsWith("PG"));
            builder.environment().put("LC_ALL", "C");
            int code = waitFor(builder.start(), limit, whole);
            String printed = Files.readString(output, StandardCharsets.UTF_8).strip();
            if (code != 0) {
                throw new EngineException(String.join(" ", whole) + " ended with code " + code + ": " + printed);
            }
            return printed;
        } finally {
            Files.deleteIfExists(output);
        }
    }

    private static int waitFor(Process process, Duration limit, List<String> command) throws IOException {
        process.getOutputStream().close();
        try {
            if (process.waitFor(limit.toMillis(), TimeUnit.MILLISECONDS)) {
                return process.exitValue();
            }
            process.destroyForcibly();
            throw new EngineException(
                    String.join(" ", command) + " did not end within " + limit.toSeconds() + " seconds");
        } catch (InterruptedException e) {
            process.destroyForcibly();
            Thread.currentThread().interrupt();
            throw new EngineException("interrupted while " + String.join(" ", command) + " ran", e);
        }
    }
}
