package dev.rimecast.analytics.stream;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** A second Java process with the test's class path, to be killed: closing it is a SIGKILL. */
final class ChildJvm implements AutoCloseable {
    private final Process process;

    private ChildJvm(Process process) {
        this.process = process;
    }

    static ChildJvm start(Class<?> main, String... arguments) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx256m",
                "-cp",
                System.getProperty("java.class.path"),
                main.getName()));
        command.addAll(List.of(arguments));
        return new ChildJvm(new ProcessBuilder(command).inheritIO().start());
    }

    @Override
    public void close() throws InterruptedException {
        process.destroyForcibly();
        if (!process.waitFor(20, TimeUnit.SECONDS)) {
            throw new AssertionError("the child survived SIGKILL");
        }
    }
}
