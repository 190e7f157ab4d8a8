package dev.rimecast.app.command;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.replay.Replay;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.RegisterFiles;
import dev.rimecast.telemetry.file.WeatherFile;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.yaml.Yaml;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Decides recordings anew. */
@Command(
        name = "replay",
        mixinStandardHelpOptions = true,
        description = {
            "Runs recorded telemetry through the same core that decides live, and writes cycles.csv, alerts.csv,"
                    + " alert_history.csv, proofs.csv and rejects.csv. The same input, policy and version give the same bytes, whatever"
                    + " the number of threads.",
            "Logs are telemetry logs (.csv, .csv.gz, .csv.zst) or captures of MQTT traffic (.json, .jsonl, .ndjson, also"
                    + " compressed)."
        },
        footer = ExitCode.FOOTER)
final class ReplayCommand implements Callable<Integer> {
    @Parameters(arity = "1..*", paramLabel = "LOG", description = "Recordings, together in order of time.")
    List<Path> logs = List.of();

    @Option(names = "--register", required = true, paramLabel = "FILE", description = "machines.csv")
    Path register = Path.of("machines.csv");

    @Option(names = "--sites", paramLabel = "FILE", description = "sites.csv")
    Optional<Path> sites = Optional.empty();

    @Option(
            names = "--events",
            paramLabel = "FILE",
            description = "events.csv: visits, cleanings and parts, after which expectations begin anew.")
    Optional<Path> events = Optional.empty();

    @Option(
            names = "--weather",
            paramLabel = "FILE",
            description = "weather.csv: warmest of each day out of doors, for the dates at which limits are reached"
                    + " (default: the warmest of the last two weeks comes again).")
    Optional<Path> weather = Optional.empty();

    @Option(names = "--policy", paramLabel = "FILE", description = "Thresholds (default: those of this version).")
    Optional<Path> policy = Optional.empty();

    @Option(
            names = "--out",
            required = true,
            paramLabel = "DIR",
            description = "Where the results go; made if missing.")
    Path out = Path.of("results");

    @Option(
            names = "--threads",
            paramLabel = "N",
            description = "Threads that decide, a site each (default: one for each processor).")
    Optional<Integer> threads = Optional.empty();

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        int deciding = threads.orElseGet(() -> Runtime.getRuntime().availableProcessors());
        if (deciding < 1) {
            throw new InputException("--threads must be at least 1, was " + deciding);
        }
        List<EventRow> happened = events.isPresent() ? EventsFile.read(events.get()) : List.of();
        Policy thresholds =
                policy.isPresent() ? Policy.parse(policy.get().toString(), Yaml.text(policy.get())) : Policy.standard();
        List<WeatherRow> expected = weather.isPresent() ? WeatherFile.read(weather.get()) : List.of();
        Replay.Input input =
                new Replay.Input(logs, RegisterFiles.read(register, sites), happened, expected, thresholds);
        long start = System.nanoTime();
        Replay.Summary summary = Replay.run(input, out, deciding);
        MonitorCounts counts = summary.counts();
        PrintWriter console = Output.of(spec);
        console.printf(
                "%,d readings in %.1f s: %,d used, %,d repeated, %,d late, %,d conflicting%n",
                summary.readings(),
                (System.nanoTime() - start) / 1e9,
                counts.used(),
                counts.repeated(),
                counts.late(),
                counts.conflicting());
        console.printf(
                "%,d cycles, %,d alerts and %,d rejects in %s%n",
                summary.cycles(), summary.alerts(), summary.rejects(), out);
        console.flush();
        return ExitCode.OK;
    }
}
