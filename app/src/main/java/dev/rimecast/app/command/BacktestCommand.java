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
import dev.rimecast.history.backtest.Resume;
import dev.rimecast.history.backtest.SideBySide;
import dev.rimecast.history.backtest.SidesFile;
import dev.rimecast.history.backtest.Start;
import dev.rimecast.history.backtest.Window;
import dev.rimecast.history.query.History;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.yaml.Yaml;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

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
            names = "--days",
            paramLabel = "N",
            description =
                    "Judge the last N days of the history only. With the live policy alone it begins at the newest weekly"
                            + " states of the monitors from before them.")
    Optional<Integer> days = Optional.empty();

    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "Also write each policy's alerts.csv and alert_history.csv there, and by_machine.csv and"
                    + " by_cause.csv of all policies.")
    Optional<Path> out = Optional.empty();

    @Option(
            names = "--pages",
            paramLabel = "URL",
            description = "Address of the server's pages, to stand before the path of each machine's plots, such as"
                    + " https://ice.example.")
    Optional<String> pages = Optional.empty();

    @Mixin
    PastOptions past = new PastOptions();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        past.check();
        if (days.filter(count -> count < 1).isPresent()) {
            throw new InputException("--days must be at least 1, was " + days.get());
        }
        if (pages.filter(url -> !url.matches("https?://[^/?#\\s]+[^?#\\s]*")).isPresent()) {
            throw new InputException("--pages must be an address such as https://ice.example, was " + pages.get());
        }
        if (days.isPresent() && !past.isHistory()) {
            throw new InputException("--days is of the history: a recording is judged as it is");
        }
        PrintWriter console = Output.of(spec);
        List<LogRun.Trial> trials = trials();
        if (past.isHistory()) {
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
        return new LogRun.Trial(
                file.getFileName().toString(), Optional.of(Policy.parse(file.toString(), Yaml.text(file))));
    }

    private void ofHistory(PrintWriter console, List<LogRun.Trial> trials) throws IOException {
        PrintWriter err = PastOptions.err(spec);
        try (History read = past.open();
                Resume kept = past.resume(err)) {
            long start = System.nanoTime();
            Start begun = start(read, trials);
            Decided decided = past.decide(read, trials, begun, kept, err);
            Optional<Window> window = days.map(count -> Window.of(decided, count));
            console.printf(
                    "%,d records of %d machines, %.1f machine-years, %,d cycles in %.1f s%n",
                    decided.records(),
                    decided.machines().size(),
                    decided.watched().values().stream()
                            .mapToDouble(Decided.Span::years)
                            .sum(),
                    decided.cycles(),
                    (System.nanoTime() - start) / 1e9);
            if (days.isPresent()) {
                console.print(begun.inWords());
            }
            List<List<AlertRow>> alerts = new ArrayList<>();
            for (int i = 0; i < trials.size(); i++) {
                if (trials.get(i).policy().isEmpty()) {
                    console.print(
                            Live.compare(read, decided.findings().get(i), begun).inWords());
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
            if (window.isPresent()) {
                Window judged = window.get();
                console.printf("Judged: %s to %s%n", judged.from(), judged.to());
                tell(
                        console,
                        trials,
                        judged.of(decided),
                        alerts.stream().map(judged::of).toList());
            } else {
                tell(console, trials, decided, alerts);
            }
            kept.done();
        }
    }

    /** What another policy would have learned is in no snapshot. */
    private Start start(History read, List<LogRun.Trial> trials) {
        boolean isLiveOnly = trials.size() == 1 && trials.get(0).policy().isEmpty();
        if (days.isEmpty() || !isLiveOnly) {
            return Start.ofTheLog(read);
        }
        return Start.newestMinute(read)
                .map(newest -> Start.before(read, newest.minus(Duration.ofDays(days.get()))))
                .orElseGet(() -> Start.ofTheLog(read));
    }

    private void ofRecording(PrintWriter console, List<LogRun.Trial> trials) throws IOException {
        List<List<AlertRow>> alerts = new ArrayList<>();
        Decided decided = new Decided(List.of(), java.util.Map.of(), List.of(), List.of(), 0, 0);
        for (int i = 0; i < trials.size(); i++) {
            Path directory = place(i, trials.get(i));
            Recording.Alerts found = past.decide(trials.get(i).policy(), directory);
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
        Labels labels = past.labels(decided);
        Judge judge = new Judge(decided, labels, FittingConditions.standard());
        List<Judged> judged = alerts.stream().map(judge::judge).toList();
        SideBySide sides = SideBySide.of(judged);
        List<String> names = trials.stream().map(LogRun.Trial::name).toList();
        console.println();
        console.print(BacktestText.of(names, judged, sides, labels, address()));
        if (out.isPresent()) {
            SidesFile.write(out.get(), names, sides, address());
        }
    }

    private String address() {
        return pages.map(url -> url.replaceAll("/+$", "")).orElse("");
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
}
