package dev.rimecast.app.command;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.MarksFile;
import dev.rimecast.history.backtest.Recording;
import dev.rimecast.history.backtest.Resume;
import dev.rimecast.history.backtest.Start;
import dev.rimecast.history.query.History;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.file.TruthFile;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Which past is decided anew, and what is known of it. */
final class PastOptions {
    @Parameters(arity = "0..*", paramLabel = "LOG", description = "Recordings instead of the history.")
    List<Path> logs = List.of();

    @Option(
            names = "--marks",
            paramLabel = "FILE",
            description = "Marks of your own: machine,from,to,mark,cause; mark is real, not or unknown.")
    List<Path> marks = List.of();

    @Option(names = "--truth", paramLabel = "FILE", description = "truth.csv of a simulated fleet.")
    Optional<Path> truth = Optional.empty();

    @Option(names = "--register", paramLabel = "FILE", description = "machines.csv; with LOG only.")
    Optional<Path> register = Optional.empty();

    @Option(names = "--events", paramLabel = "FILE", description = "events.csv; with LOG only.")
    Optional<Path> events = Optional.empty();

    @Option(
            names = "--threads",
            paramLabel = "N",
            description = "Threads that decide (default: one for each processor).")
    Optional<Integer> threads = Optional.empty();

    @Option(
            names = "--resume",
            paramLabel = "DIR",
            description =
                    "Keep there what is decided, and go on from it when the same was interrupted; of the history only.")
    Optional<Path> resume = Optional.empty();

    @Mixin
    HistoryOptions history = new HistoryOptions();

    /** Refuses what can't be meant, and files with mistakes: before anything is decided, which may take hours. */
    void check() throws IOException {
        if (threads.filter(count -> count < 1).isPresent()) {
            throw new InputException("--threads must be at least 1, was " + threads.get());
        }
        if (!logs.isEmpty() && resume.isPresent()) {
            throw new InputException("--resume is of the history: a recording is decided in one go");
        }
        if (logs.isEmpty() && (register.isPresent() || events.isPresent())) {
            throw new InputException("--register and --events go with a LOG: the history has its own");
        }
        if (!logs.isEmpty() && register.isEmpty()) {
            throw new InputException("--register is missing: which machines are in the recording?");
        }
        for (Path file : marks) {
            MarksFile.read(file);
        }
        if (truth.isPresent()) {
            TruthFile.read(truth.get());
        }
    }

    boolean isHistory() {
        return logs.isEmpty();
    }

    boolean isResumed() {
        return resume.isPresent();
    }

    History open() {
        return history.open();
    }

    /** Decides the history anew; who has told the answer says {@link Resume#done}. */
    Decided decide(History read, List<LogRun.Trial> trials, Start start, Resume kept, PrintWriter err) {
        return LogRun.run(read, trials, deciding(), new TimeLeft(err), start, kept);
    }

    /** Where what is decided is kept. */
    Resume resume(PrintWriter err) {
        return resume.map(directory -> Resume.in(directory, said -> {
                    err.println(said);
                    err.flush();
                }))
                .orElseGet(Resume::none);
    }

    int deciding() {
        return threads.orElseGet(() -> Runtime.getRuntime().availableProcessors());
    }

    /** Decides the recordings anew, after {@link #check}. */
    Recording.Alerts decide(Optional<Policy> policy, Path directory) throws IOException {
        return Recording.decide(
                logs,
                RegisterFiles.read(register.orElseThrow(), Optional.empty()),
                events.isPresent() ? EventsFile.read(events.get()) : List.of(),
                policy,
                directory,
                deciding());
    }

    Labels labels(Decided decided) throws IOException {
        return Labels.of(decided, truth, marks);
    }

    /** Where progress is told. */
    static PrintWriter err(CommandLine.Model.@Nullable CommandSpec spec) {
        return spec == null
                ? new PrintWriter(System.err, true, StandardCharsets.UTF_8)
                : spec.commandLine().getErr();
    }
}
