package dev.rimecast.app.command;

import dev.rimecast.simulator.fleet.DemoFleet;
import dev.rimecast.simulator.fleet.FleetFiles;
import dev.rimecast.simulator.fleet.FleetPlan;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Writes the demonstration's fleet as files. */
@Command(
        name = "simulate",
        mixinStandardHelpOptions = true,
        description = {
            "Writes what the demonstration's 24 machines say in their 45 days as files of the contract: machines.csv,"
                    + " sites.csv, events.csv, telemetry.csv.gz, and truth.csv with what was really wrong.",
            "Feed them to replay. The same end gives the same files."
        },
        footer = ExitCode.FOOTER)
final class SimulateCommand implements Callable<Integer> {
    @Option(names = "--out", required = true, paramLabel = "DIR", description = "Where the files go; made if missing.")
    Path out = Path.of("fleet");

    @Option(
            names = "--until",
            paramLabel = "TIME",
            description = "End of the 45 days, ISO 8601, e.g. 2026-05-20T00:00:00Z (default: now).")
    Optional<Instant> until = Optional.empty();

    @Option(
            names = "--sampling",
            paramLabel = "SECONDS",
            defaultValue = "60",
            description = "Between two readings of a temperature: 10, 20, 30 or 60 (default: ${DEFAULT-VALUE}).")
    int samplingSeconds;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException {
        PrintWriter console = Output.of(spec);
        Instant end = until.orElseGet(Instant::now).truncatedTo(ChronoUnit.MINUTES);
        FleetPlan plan;
        try {
            plan = DemoFleet.plan(end, Duration.ofSeconds(samplingSeconds));
        } catch (IllegalArgumentException e) {
            throw new InputException("--sampling " + samplingSeconds + ": " + e.getMessage());
        }
        console.println("Simulating " + plan.register().machines().size() + " machines up to " + end + " …");
        console.flush();
        long readings = FleetFiles.write(plan, out);
        console.println(readings + " readings in " + out.resolve(FleetFiles.TELEMETRY)
                + ", with register, sites, events" + " and truth beside them");
        console.flush();
        return ExitCode.OK;
    }
}
