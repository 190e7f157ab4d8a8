package dev.rimecast.app.command;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.history.backtest.BacktestText;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Judge;
import dev.rimecast.history.backtest.Judged;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.history.backtest.Live;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.Recording;
import dev.rimecast.history.query.History;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.yaml.Yaml;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Decides the past anew and says how good that would have been. */
@Command(
        name = "backtest",
        mixinStandardHelpOptions = true,
        description = {
            "Runs the past through the same core that decides live, with a policy of your choice, and holds the alerts against"
                    + " what is known: visits and calls that were reported, your own marks, the truth of simulated fleets.",
            "Without LOG the past is the history of a server, in the order of arrival; with the live policy the alerts must be"
                    + " those that were raised live, and it says whether they are. With LOG it is a recording, as for replay.",
            "What the figures mean: docs/backtest.md."
        },
        footer = ExitCode.FOOTER)
final class BacktestCommand implements Callable<Integer> {
    @Parameters(arity = "0..*", paramLabel = "LOG", description = "Recordings instead of the history.")
    List<Path> logs = List.of();

    @Option(
            names = "--policy",
            paramLabel = "FILE",
            description =
                    "Thresholds to try (default: of the history those that were in force, else those of this version).")
    Optional<Path> policy = Optional.empty();

    @Option(
            names = "--against",
            paramLabel = "FILE",
            description = "Other thresholds, to be laid beside them; 'live' for" + " those that were in force.")
    Optional<String> against = Optional.empty();

    @Option(
            names = "--marks",
            paramLabel = "FILE",
            description = "Marks of your own: machine,from,to,mark,cause; mark is real," + " not or unknown.")
    List<Path> marks = List.of();

    @Option(names = "--truth", paramLabel = "FILE", description = "truth.csv of a simulated fleet.")
    Optional<Path> truth = Optional.empty();

    @Option(names = "--register", paramLabel = "FILE", description = "machines.csv; with LOG only.")
    Optional<Path> register = Optional.empty();

    @Option(names = "--events", paramLabel = "FILE", description = "events.csv; with LOG only.")
    Optional<Path> events = Optional.empty();

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "Also write each policy's alerts.csv and alert_history.csv there.")
    Optional<Path> out = Optional.empty();

    @Option(
            names = "--threads",
            paramLabel = "N",
            description = "Threads that decide (default: one for each processor).")
    Optional<Integer> threads = Optional.empty();

    @Mixin
    HistoryOptions history = new HistoryOptions();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        if (threads.filter(count -> count < 1).isPresent()) {
            throw new InputException("--threads must be at least 1, was " + threads.get());
        }
        PrintWriter console = Output.of(spec);
        List<LogRun.Trial> trials = trials();
        if (logs.isEmpty()) {
            if (register.isPresent() || events.isPresent()) {
                throw new InputException("--register and --events go with a LOG: the history has its own");
            }
            ofHistory(console, trials);
        } else {
            ofRecording(console, trials);
        }
        console.flush();
        return ExitCode.OK;
    }

    private List<LogRun.Trial> trials() throws IOException {
        List<LogRun.Trial> trials = new ArrayList<>();
        trials.add(policy.isPresent() ? trial(policy.get()) : new LogRun.Trial("live", Optional.empty()));
        if (against.isPresent()) {
            trials.add(
                    against.get().equals("live")
                            ? new LogRun.Trial("live", Optional.empty())
                            : trial(Path.of(against.get())));
        }
        return trials;
    }

    private static LogRun.Trial trial(Path file) throws IOException {
        return new LogRun.Trial(file.getFileName().toString(), Optional.of(Policy.parse(Yaml.text(file))));
    }

    private int deciding() {
        return threads.orElseGet(() -> Runtime.getRuntime().availableProcessors());
    }

    private void ofHistory(PrintWriter console, List<LogRun.Trial> trials) throws IOException {
        try (History past = history.open()) {
            long start = System.nanoTime();
            Decided decided = LogRun.run(past, trials, deciding(), new TimeLeft(err()));
            console.printf(
                    "%,d records of %d machines, %.1f machine-years, %,d cycles in %.1f s%n",
                    decided.records(),
                    decided.machines().size(),
                    decided.watched().values().stream()
                            .mapToDouble(Decided.Span::years)
                            .sum(),
                    decided.cycles(),
                    (System.nanoTime() - start) / 1e9);
            List<List<AlertRow>> alerts = new ArrayList<>();
            for (int i = 0; i < trials.size(); i++) {
                if (trials.get(i).policy().isEmpty()) {
                    console.print(Live.compare(past, decided.findings().get(i)).inWords());
                }
                Path directory = place(i, trials.get(i));
                AlertsFile.write(
                        directory.resolve("alerts.csv"), decided.findings().get(i));
                AlertHistoryFile.write(
                        directory.resolve("alert_history.csv"),
                        decided.findings().get(i));
                alerts.add(AlertsFile.read(directory.resolve("alerts.csv")));
                clear(directory);
            }
            tell(console, trials, decided, alerts);
        }
    }

    private void ofRecording(PrintWriter console, List<LogRun.Trial> trials) throws IOException {
        if (register.isEmpty()) {
            throw new InputException("--register is missing: which machines are in the recording?");
        }
        Register machines = RegisterFiles.read(register.get(), Optional.empty());
        List<EventRow> happened = events.isPresent() ? EventsFile.read(events.get()) : List.of();
        List<List<AlertRow>> alerts = new ArrayList<>();
        Decided decided = new Decided(List.of(), java.util.Map.of(), List.of(), List.of(), 0, 0);
        for (int i = 0; i < trials.size(); i++) {
            Path directory = place(i, trials.get(i));
            Recording.Alerts found =
                    Recording.decide(logs, machines, happened, trials.get(i).policy(), directory, deciding());
            decided = found.decided();
            alerts.add(found.alerts());
            clear(directory);
        }
        console.printf(
                "%,d readings of %d machines%n",
                decided.records(), decided.machines().size());
        tell(console, trials, decided, alerts);
    }

    private void tell(PrintWriter console, List<LogRun.Trial> trials, Decided decided, List<List<AlertRow>> alerts)
            throws IOException {
        Labels labels = Labels.of(decided, truth, marks);
        Judge judge = new Judge(decided, labels, FittingConditions.standard());
        List<Judged> judged = alerts.stream().map(judge::judge).toList();
        console.println();
        console.print(BacktestText.of(trials.stream().map(LogRun.Trial::name).toList(), judged, labels));
    }

    private Path place(int number, LogRun.Trial trial) throws IOException {
        return out.isPresent()
                ? Files.createDirectories(
                        out.get().resolve((number + 1) + "-" + trial.name().replaceAll("\\.ya?ml$", "")))
                : Files.createTempDirectory("rimecast-backtest-");
    }

    private void clear(Path directory) throws IOException {
        if (out.isEmpty()) {
            Scratch.delete(directory);
        }
    }

    private PrintWriter err() {
        return spec == null
                ? new PrintWriter(System.err, true, java.nio.charset.StandardCharsets.UTF_8)
                : spec.commandLine().getErr();
    }
}
