package dev.rimecast.app.command;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.InForce;
import dev.rimecast.history.backtest.LogRun;
import dev.rimecast.history.backtest.Recording;
import dev.rimecast.history.backtest.Resume;
import dev.rimecast.history.backtest.Start;
import dev.rimecast.history.query.History;
import dev.rimecast.history.tune.Costs;
import dev.rimecast.history.tune.FromCycles;
import dev.rimecast.history.tune.Sweep;
import dev.rimecast.history.tune.Tapes;
import dev.rimecast.history.tune.TuneText;
import dev.rimecast.history.tune.Tuning;
import dev.rimecast.history.tune.Variant;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.yaml.Yaml;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** Tries other numbers on the past. */
@Command(
        name = "tune",
        mixinStandardHelpOptions = true,
        description = {
            "Back-tests a policy with every combination of the values that are given, says what each would have cost, and writes"
                    + " what it proposes as a policy with a report: why, and what is unsure.",
            "E.g. ./rimecast tune --number change.false_alarms_per_machine_year=0.05,0.2,0.5 --out tuned",
            "What is known comes from where backtest has it: docs/backtest.md. Nothing is put into force."
        },
        footer = ExitCode.FOOTER)
final class TuneCommand implements Callable<Integer> {
    @Option(
            names = "--number",
            required = true,
            paramLabel = "PATH=V,V",
            description = "A number below 'all' of the policy, and values to try; may be given again.")
    List<String> numbers = List.of();

    @Option(
            names = "--policy",
            paramLabel = "FILE",
            description =
                    "Where to begin (default: of the history the one in force at its end, else that of this version).")
    Optional<Path> policy = Optional.empty();

    @Option(
            names = "--cost-visit",
            paramLabel = "COST",
            defaultValue = "150",
            description =
                    "A visit on which nothing is found (default: ${DEFAULT-VALUE}, which is nobody's figure but a beginning).")
    double visit = 150;

    @Option(
            names = "--cost-stop",
            paramLabel = "COST",
            defaultValue = "600",
            description =
                    "A problem that nobody knew of before its time, with the hours without ice (default: ${DEFAULT-VALUE}).")
    double stop = 600;

    @Option(
            names = "--cost-late",
            paramLabel = "COST",
            defaultValue = "1",
            description =
                    "An hour by which a problem was known later than three days before (default: ${DEFAULT-VALUE}).")
    double late = 1;

    @Option(
            names = "--parts",
            paramLabel = "N",
            defaultValue = "5",
            description =
                    "Parts into which the machines are dealt, to see whether the choice holds (default: ${DEFAULT-VALUE}).")
    int parts = 5;

    @Option(names = "--out", required = true, paramLabel = "DIR", description = "Where policy.yaml and report.txt go.")
    Path out = Path.of("tuned");

    @Mixin
    PastOptions past = new PastOptions();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    /** The policy as it is, and where that was found. */
    private record Base(Policy policy, String from) {}

    /** What came of every variant. */
    private record Tried(Decided decided, List<List<AlertRow>> alerts) {}

    @Override
    public Integer call() throws IOException {
        past.check();
        if (parts < 2) {
            throw new InputException("--parts must be at least 2, was " + parts);
        }
        Costs costs;
        List<Sweep> sweeps;
        Base asItIs;
        try {
            costs = new Costs(visit, stop, late);
            sweeps = numbers.stream().map(Sweep::parse).toList();
            asItIs = policy.isPresent()
                    ? new Base(
                            Policy.parse(policy.get().toString(), Yaml.text(policy.get())),
                            policy.get().getFileName().toString())
                    : new Base(Policy.standard(), "the product's");
            Variant.of(asItIs.policy, sweeps);
        } catch (IllegalArgumentException e) {
            throw new InputException(String.valueOf(e.getMessage()));
        }
        if (past.isHistory()) {
            try (History read = past.open()) {
                Base base = policy.isPresent() ? asItIs : inForce(read);
                tune(base, Variant.of(base.policy, sweeps), costs, Optional.of(read));
            }
        } else {
            tune(asItIs, Variant.of(asItIs.policy, sweeps), costs, Optional.empty());
        }
        return ExitCode.OK;
    }

    /** What was decided by when the history ended, as on the page. */
    private static Base inForce(History read) {
        return InForce.atTheEnd(read)
                .map(found -> new Base(found.policy(), "in force at the end of the history, since " + found.since()))
                .orElseGet(() -> new Base(Policy.standard(), "the product's, since the history names no other"));
    }

    private void tune(Base base, List<Variant> variants, Costs costs, Optional<History> read) throws IOException {
        Files.createDirectories(out);
        try (Resume kept = past.resume(PastOptions.err(spec))) {
            Tried tried = read.isPresent() ? ofHistory(read.get(), variants, kept) : ofRecording(variants);
            tell(base, variants, tried, costs);
            kept.done();
        }
    }

    private void tell(Base base, List<Variant> variants, Tried tried, Costs costs) throws IOException {
        Tuning tuning =
                Tuning.of(variants, tried.decided(), past.labels(tried.decided()), tried.alerts(), costs, parts);
        String report = String.format("The policy as it is: %s (%s).%n%n", base.policy.version(), base.from)
                + TuneText.of(
                        tuning,
                        costs,
                        tried.decided().watched().values().stream()
                                .mapToDouble(Decided.Span::years)
                                .sum());
        if (isFromCycles(variants)) {
            report += String.format("%n%s%n", FromCycles.IN_WORDS);
        }
        Files.writeString(
                out.resolve("policy.yaml"), variants.get(tuning.best()).policy().yaml());
        Files.writeString(out.resolve("report.txt"), report);
        PrintWriter console = Output.of(spec);
        console.print(report);
        console.printf("%nIn %s: policy.yaml and report.txt%n", out);
        console.flush();
    }

    private Tried ofHistory(History read, List<Variant> variants, Resume kept) throws IOException {
        Decided decided = isFromCycles(variants)
                ? fromCycles(read, variants, kept)
                : past.decide(
                        read,
                        variants.stream().map(Variant::trial).toList(),
                        Start.ofTheLog(read),
                        kept,
                        PastOptions.err(spec));
        List<List<AlertRow>> alerts = new ArrayList<>();
        Path file = Files.createTempFile("rimecast-tune-", ".csv");
        try {
            for (int i = 0; i < variants.size(); i++) {
                AlertsFile.write(file, decided.findings().get(i));
                alerts.add(AlertsFile.read(file));
            }
        } finally {
            Files.delete(file);
        }
        return new Tried(decided, alerts);
    }

    private boolean isFromCycles(List<Variant> variants) {
        return past.isHistory()
                && !past.isResumed()
                && variants.stream()
                        .allMatch(variant ->
                                FromCycles.areOfCycles(variant.changed().keySet()));
    }

    /** One pass over the readings with the policy as it is; the others from what the readings came to. */
    private Decided fromCycles(History read, List<Variant> variants, Resume kept) throws IOException {
        Path directory = Files.createTempDirectory("rimecast-tune-");
        try (Tapes tapes = new Tapes(directory)) {
            LogRun.Trial asItIs = new LogRun.Trial(
                    variants.get(0).name(), Optional.of(variants.get(0).policy()), Optional.of(tapes::of));
            PrintWriter err = PastOptions.err(spec);
            Decided base = past.decide(read, List.of(asItIs), Start.ofTheLog(read), kept, err);
            tapes.end();
            long begun = System.nanoTime();
            Decided decided = FromCycles.decide(base, variants, tapes, past.deciding());
            err.printf(
                    Locale.ROOT,
                    "%d other policies from %,d cycles in %.1f s%n",
                    variants.size() - 1,
                    base.cycles(),
                    (System.nanoTime() - begun) / 1e9);
            err.flush();
            return decided;
        } finally {
            Scratch.delete(directory);
        }
    }

    private Tried ofRecording(List<Variant> variants) throws IOException {
        List<List<AlertRow>> alerts = new ArrayList<>();
        Decided decided = new Decided(List.of(), java.util.Map.of(), List.of(), List.of(), 0, 0);
        for (Variant variant : variants) {
            Path directory = Files.createTempDirectory("rimecast-tune-");
            Recording.Alerts found = past.decide(Optional.of(variant.policy()), directory);
            decided = found.decided();
            alerts.add(found.alerts());
            Scratch.delete(directory);
        }
        return new Tried(decided, alerts);
    }
}
