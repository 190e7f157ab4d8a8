package dev.rimecast.app.command;

import dev.rimecast.app.backup.Restore;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** A data directory out of a backup. */
@Command(
        name = "restore",
        mixinStandardHelpOptions = true,
        description = {
            "Makes a data directory of a backup, of this version or an earlier one. The whole file is checked before anything"
                    + " is written; a directory with something in it is refused.",
            "Start the server on it afterwards: it goes on where the backup was made. Gateways with a store send again what"
                    + " they still have, and what was taken in before is recognised."
        },
        footer = ExitCode.FOOTER)
final class RestoreCommand implements Callable<Integer> {
    @Parameters(paramLabel = "FILE", description = "A backup.")
    Path file = Path.of("");

    @Option(
            names = "--data",
            required = true,
            paramLabel = "DIR",
            description = "The data directory to make; missing or empty.")
    Path data = Path.of("");

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        if (!Files.isRegularFile(file)) {
            throw new NoSuchFileException(file.toString());
        }
        String done = Restore.of(file, data);
        PrintWriter out = Output.of(spec);
        out.println(done);
        out.flush();
        return ExitCode.OK;
    }
}
