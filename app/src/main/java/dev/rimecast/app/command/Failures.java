package dev.rimecast.app.command;

import dev.rimecast.app.backup.BackupException;
import dev.rimecast.app.server.StartException;
import dev.rimecast.engines.EngineException;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.yaml.YamlProblems;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.NoSuchFileException;
import picocli.CommandLine;

/** Turns what a command threw into one message for a person; the trace only with {@code --verbose}. */
final class Failures implements CommandLine.IExecutionExceptionHandler {

    @Override
    public int handleExecutionException(Exception failure, CommandLine command, CommandLine.ParseResult parsed) {
        PrintWriter err = command.getErr();
        err.println(message(failure));
        if (Verbose.of(command)) {
            failure.printStackTrace(err);
        }
        err.flush();
        return isInput(failure) ? ExitCode.WRONG_INPUT : ExitCode.FAILED;
    }

    private static boolean isInput(Exception failure) {
        return failure instanceof YamlProblems
                || failure instanceof InputProblems
                || failure instanceof InputException
                || failure instanceof BackupException
                || failure instanceof HistoryException
                || failure instanceof NoSuchFileException
                || failure instanceof FileAlreadyExistsException;
    }

    private static String message(Exception failure) {
        if (failure instanceof NoSuchFileException missing) {
            return "there is no file " + missing.getFile();
        }
        if (failure instanceof FileAlreadyExistsException there) {
            return there.getFile() + " is there already: delete it or choose another place";
        }
        if (failure instanceof YamlProblems
                || failure instanceof InputProblems
                || failure instanceof InputException
                || failure instanceof BackupException
                || failure instanceof HistoryException
                || failure instanceof EngineException
                || failure instanceof StartException) {
            return String.valueOf(failure.getMessage());
        }
        if (failure instanceof IOException || failure instanceof UncheckedIOException) {
            return "reading or writing failed: " + failure.getMessage();
        }
        return "failed: " + failure + " (run again with --verbose for the details)";
    }
}
