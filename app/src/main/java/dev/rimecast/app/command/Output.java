package dev.rimecast.app.command;

import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;

/** Where a command writes. */
final class Output {
    private Output() {}

    static PrintWriter of(CommandLine.Model.@Nullable CommandSpec spec) {
        return spec == null
                ? new PrintWriter(System.out, true, StandardCharsets.UTF_8)
                : spec.commandLine().getOut();
    }
}
