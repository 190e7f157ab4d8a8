package dev.rimecast.engines;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A second Java process with the test's class path, to be killed. */
final class ChildJvm implements AutoCloseable {
    private final Process process;
    private final BufferedReader output;

    private ChildJvm(Process process) {
        this.process = process;
        this.output = new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    }

    static ChildJvm start(Class<?> main, String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx256m",
                "-cp",
                System.getProperty("java.class.path"),
                main.getName()));
        command.addAll(List.of(arguments));
        return new ChildJvm(
                new ProcessBuilder(command).redirectErrorStream(true).start());
    }

    /** Reads output until a line starts with {@code word}, and returns the rest of that line. */
    String awaitLine(String word) throws IOException {
        List<String> seen = new ArrayList<>();
        for (String line = output.readLine(); line != null; line = output.readLine()) {
            if (line.startsWith(word)) {
                return line.substring(word.length()).strip();
            }
            seen.add(line);
        }
        throw new AssertionError("the child ended without '" + word + "': " + String.join("\n", seen));
    }

    /** Reads output until {@code count} lines have started with {@code word}; returns the rest of each. */
    List<String> readLines(String word, int count) throws IOException {
        List<String> lines = new ArrayList<>();
        while (lines.size() < count) {
            lines.add(awaitLine(word));
        }
        return lines;
    }

    /** SIGKILL: no hook runs. */
    void kill() throws InterruptedException {
        process.destroyForcibly();
        if (!process.waitFor(20, TimeUnit.SECONDS)) {
            throw new AssertionError("the child survived SIGKILL");
        }
    }

    @Override
    public void close() throws InterruptedException {
        kill();
    }
}
