package dev.rimecast.app.command;

import dev.rimecast.analytics.score.FittingConditions;
import dev.rimecast.analytics.score.Score;
import dev.rimecast.analytics.score.ScoreDetails;
import dev.rimecast.analytics.score.ScoreInput;
import dev.rimecast.analytics.score.ScoreJson;
import dev.rimecast.analytics.score.ScoreText;
import dev.rimecast.analytics.score.Scoring;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.file.result.CycleRow;
import dev.rimecast.telemetry.file.result.CyclesFile;
import dev.rimecast.telemetry.file.result.RevisionRow;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Holds alerts against the truth. */
@Command(
        name = "score",
        mixinStandardHelpOptions = true,
        description = {
            "Says how good detection was: faults found before their deadline, how long before, false alarms per"
                    + " machine-year with an upper bound, causes right, probabilities against what came true.",
            "The truth comes from simulate, or is made from outcomes; the other files come from replay."
        },
        footer = ExitCode.FOOTER)
final class ScoreCommand implements Callable<Integer> {
    @Option(names = "--truth", required = true, paramLabel = "FILE", description = "truth.csv")
    Path truth = Path.of("truth.csv");

    @Option(names = "--alerts", required = true, paramLabel = "FILE", description = "alerts.csv")
    Path alerts = Path.of("alerts.csv");

    @Option(names = "--register", required = true, paramLabel = "FILE", description = "machines.csv")
    Path register = Path.of("machines.csv");

    @Option(
            names = "--history",
            paramLabel = "FILE",
            description = "alert_history.csv: diagnoses are judged as they stood at the deadline, not as they ended.")
    Optional<Path> history = Optional.empty();

    @Option(
            names = "--cycles",
            paramLabel = "FILE",
            description = "cycles.csv: delays of steps in cycles and hours of running, and the span of the record.")
    Optional<Path> cycles = Optional.empty();

    @Option(names = "--from", paramLabel = "TIME", description = "Where the record begins (default: first cycle).")
    Optional<Instant> from = Optional.empty();

    @Option(names = "--to", paramLabel = "TIME", description = "Where it ends (default: last cycle).")
    Optional<Instant> to = Optional.empty();

    @Option(names = "--details", description = "Also each fault and each false alarm on a line.")
    boolean details;

    @Option(names = "--json", description = "Print one JSON object instead.")
    boolean json;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        FittingConditions fitting = FittingConditions.standard();
        Score score = Scoring.of(input(), fitting);
        PrintWriter console = Output.of(spec);
        if (json) {
            console.println(ScoreJson.of(score));
        } else {
            console.print(ScoreText.of(score));
            if (details) {
                console.println();
                console.print(ScoreDetails.of(score, fitting));
            }
        }
        console.flush();
        return ExitCode.OK;
    }

    private ScoreInput input() throws IOException {
        List<CycleRow> ran = cycles.isPresent() ? CyclesFile.read(cycles.get()) : List.of();
        List<RevisionRow> revisions = history.isPresent() ? AlertHistoryFile.read(history.get()) : List.of();
        Comparator<CycleRow> byStart = Comparator.comparing(CycleRow::freezeStart);
        Optional<Instant> begins = from.or(() -> ran.stream().min(byStart).map(CycleRow::freezeStart));
        Optional<Instant> ends = to.or(() -> ran.stream().max(byStart).map(CycleRow::freezeStart));
        if (begins.isEmpty() || ends.isEmpty()) {
            throw new InputException("how long was the record? Give --cycles, or --from and --to");
        }
        try {
            return new ScoreInput(
                    TruthFile.read(truth),
                    AlertsFile.read(alerts),
                    revisions,
                    ran,
                    RegisterFiles.read(register, Optional.empty()).machines(),
                    begins.get(),
                    ends.get());
        } catch (IllegalArgumentException e) {
            throw new InputException(String.valueOf(e.getMessage()));
        }
    }
}
