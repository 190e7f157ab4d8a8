package dev.rimecast.app.command;

import dev.rimecast.simulator.fleet.DemoFleet;
import dev.rimecast.simulator.fleet.FleetFiles;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.gateway.GatewayLines;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import picocli.CommandLine;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Writes a simulated fleet as files, or publishes it: the demonstration's, or a random one to measure detection on. */
@Command(
        name = "simulate",
        mixinStandardHelpOptions = true,
        description = {
            "Writes what simulated machines say as files of the contract: machines.csv, sites.csv, events.csv,"
                    + " telemetry.csv.gz, and truth.csv with what was really wrong.",
            "Without --trial: the demonstration's 24 machines and their 45 days. With --trial: a random fleet; half of"
                    + " its machines have one fault each, the causes by turns.",
            "Feed them to replay, and its results to score. The same options give the same files.",
            "With --publish its gateways speak to a running server instead, each with its own key."
        },
        footer = ExitCode.FOOTER)
final class SimulateCommand implements Callable<Integer> {
    @Option(
            names = "--out",
            paramLabel = "DIR",
            description = "Where the files go; made if missing. With --publish: machines.csv and sites.csv only.")
    Optional<Path> out = Optional.empty();

    @Option(
            names = "--until",
            paramLabel = "TIME",
            description = "End of the demonstration's 45 days, ISO 8601, e.g. 2026-05-20T00:00:00Z (default: now).")
    Optional<Instant> until = Optional.empty();

    @Option(
            names = "--sampling",
            paramLabel = "SECONDS",
            defaultValue = "60",
            description = "Between two readings of a temperature: 10, 20, 30 or 60 (default: ${DEFAULT-VALUE}).")
    int samplingSeconds;

    @ArgGroup(exclusive = false, heading = "%nA random fleet:%n")
    @Nullable
    TrialOptions trial;

    @ArgGroup(exclusive = false, heading = "%nOver MQTT instead:%n")
    @Nullable
    PublishOptions publish;

    @CommandLine.Spec
    CommandLine.Model.@Nullable CommandSpec spec;

    @Override
    public Integer call() throws IOException, InterruptedException {
        FleetPlan plan = plan();
        PrintWriter console = Output.of(spec);
        if (publish != null) {
            return publish(plan, publish, console);
        }
        write(plan, out.orElseThrow(() -> new InputException("give --out DIR for files, or --publish URL")), console);
        return ExitCode.OK;
    }

    private static void write(FleetPlan plan, Path out, PrintWriter console) throws IOException {
        int machines = plan.register().machines().size();
        console.printf("Simulating %d machines up to %s …%n", machines, plan.to());
        console.flush();
        long start = System.nanoTime();
        long readings = FleetFiles.write(plan, out);
        double seconds = (System.nanoTime() - start) / 1e9;
        double machineDays = machines * Duration.between(plan.from(), plan.to()).toMinutes() / 1440.0;
        console.printf(
                "%,d readings in %s, with register, sites, events and truth beside them; %.1f s, %.0f machine-days a second%n",
                readings, out.resolve(FleetFiles.TELEMETRY), seconds, machineDays / seconds);
        console.flush();
    }

    private int publish(FleetPlan plan, PublishOptions options, PrintWriter console)
            throws IOException, InterruptedException {
        GatewayLines lines = options.lines();
        if (out.isPresent()) {
            FleetFiles.writeRegister(plan, out.get());
        }
        FleetPublisher publisher = new FleetPublisher(plan, lines, InstantSource.system(), console);
        UntilStopped untilStopped = new UntilStopped();
        untilStopped.closing(publisher);
        console.printf(
                "Publishing %d machines to %s …%n", plan.register().machines().size(), options.server);
        console.flush();
        publisher.past(options.pastDays
                .map(days -> plan.to().minus(Duration.ofDays(days)))
                .filter(from -> from.isAfter(plan.from()))
                .orElse(plan.from()));
        if (trial == null && until.isEmpty()) {
            publisher.live();
        }
        publisher.close();
        return ExitCode.OK;
    }

    private FleetPlan plan() {
        Duration sampling = Duration.ofSeconds(samplingSeconds);
        if (trial != null && until.isPresent()) {
            throw new InputException("--until is of the demonstration's fleet; a trial takes --days and --seed");
        }
        try {
            return trial != null
                    ? trial.plan(sampling)
                    : DemoFleet.plan(until.orElseGet(Instant::now).truncatedTo(ChronoUnit.MINUTES), sampling);
        } catch (IllegalArgumentException e) {
            throw new InputException(String.valueOf(e.getMessage()));
        }
    }
}
