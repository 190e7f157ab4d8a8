package dev.rimecast.app.command;

import dev.rimecast.app.backup.OwnFile;
import dev.rimecast.app.backup.Restore;
import dev.rimecast.app.server.Backups;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.channels.FileChannel;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Everything of one machine into one file. */
@Command(
        name = "backup",
        mixinStandardHelpOptions = true,
        description = {
            "Writes everything that a server with Kafka and PostgreSQL of its own keeps into one file, while it runs: packs"
                    + " are taken in meanwhile, what is detected waits seconds. The file is checked before it gets its name.",
            "It has every secret of the database in it, password hashes among them: keep it as such. The configuration and"
                    + " the files that it names are not in it.",
            "Needs an API token of an administrator who sees every site, in the environment as " + ServerOptions.TOKEN
                    + " or in a file. With --data, of a server that is stopped, it needs none."
        },
        footer = ExitCode.FOOTER)
final class BackupCommand implements Callable<Integer> {
    @Parameters(paramLabel = "FILE", description = "Where it is written, e.g. rimecast.zip; must not be there yet.")
    Path file = Path.of("");

    @Option(names = "--data", paramLabel = "DIR", description = "The data directory of a server that is stopped.")
    Optional<Path> data = Optional.empty();

    @Mixin
    ServerOptions server;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    BackupCommand() {
        this(new ServerOptions());
    }

    BackupCommand(ServerOptions server) {
        this.server = server;
    }

    @Override
    public Integer call() throws IOException, InterruptedException {
        if (Files.exists(file)) {
            throw new FileAlreadyExistsException(file.toString());
        }
        Path part = file.resolveSibling(file.getFileName() + ".part");
        if (Files.exists(part)) {
            throw new FileAlreadyExistsException(part.toString());
        }
        try {
            write(part);
            String what = Restore.check(part);
            // Before it is called done: what a power cut would take is no backup.
            force(part, StandardOpenOption.WRITE);
            Files.move(part, file, StandardCopyOption.ATOMIC_MOVE);
            Path directory = file.toAbsolutePath().getParent();
            if (directory != null) {
                force(directory, StandardOpenOption.READ);
            }
            PrintWriter out = Output.of(spec);
            out.println(file + ": " + Files.size(file) + " bytes, " + what);
            out.flush();
        } finally {
            Files.deleteIfExists(part);
        }
        return ExitCode.OK;
    }

    private static void force(Path path, StandardOpenOption how) throws IOException {
        try (FileChannel channel = FileChannel.open(path, how)) {
            channel.force(true);
        }
    }

    private void write(Path part) throws IOException, InterruptedException {
        if (data.isPresent()) {
            Backups.ofStopped(data.get(), part);
            return;
        }
        OwnFile.create(part);
        ServerOptions.Answer answer = server.fetch("/api/v1/system/backup", part);
        if (answer.status() != 200) {
            throw new InputException(server.server + " answered " + answer.status() + ": " + answer.detail());
        }
    }
}
