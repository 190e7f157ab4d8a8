package dev.rimecast.app.command;

import dev.rimecast.history.query.Export;
import dev.rimecast.history.query.History;
import dev.rimecast.history.query.View;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Takes a part of the history elsewhere. */
@Command(
        name = "export",
        mixinStandardHelpOptions = true,
        description = {
            "Writes a view of the history into a file: .csv, .csv.gz, .csv.zst or .parquet, as its name ends.",
            "CSV is what the other commands read: readings are a telemetry log for replay, alerts and cycles are for score."
                    + " Parquet has every column."
        },
        footer = ExitCode.FOOTER)
final class ExportCommand implements Callable<Integer> {
    @Parameters(
            index = "0",
            paramLabel = "VIEW",
            description = "readings, cycles, alerts, outcomes, …; query lists them.")
    String view = "";

    @Parameters(index = "1", paramLabel = "FILE", description = "Where to; must not be there yet.")
    Path file = Path.of("");

    @Option(names = "--from", paramLabel = "TIME", description = "From this time on, e.g. 2026-05-04T00:00:00Z.")
    Optional<Instant> from = Optional.empty();

    @Option(names = "--to", paramLabel = "TIME", description = "Up to this time, exclusive.")
    Optional<Instant> to = Optional.empty();

    @Option(names = "--site", paramLabel = "SITE", description = "Of this site only.")
    Optional<String> site = Optional.empty();

    @Option(names = "--machine", paramLabel = "MACHINE", description = "Of this machine only.")
    Optional<String> machine = Optional.empty();

    @Mixin
    HistoryOptions history = new HistoryOptions();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        View wanted = View.ofCode(view)
                .orElseThrow(
                        () -> new InputException("there is no view " + view + ": " + String.join(", ", View.codes())));
        if (from.isPresent() && to.isPresent() && !from.get().isBefore(to.get())) {
            throw new InputException("--from must be before --to, was " + from.get() + " and " + to.get());
        }
        try (History past = history.open()) {
            long rows = Export.write(past, wanted, new Export.Part(from, to, site, machine), file);
            PrintWriter out = Output.of(spec);
            out.printf("%,d rows of %s in %s%n", rows, view, file);
            out.flush();
        }
        return ExitCode.OK;
    }
}
