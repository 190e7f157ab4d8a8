package dev.rimecast.app.command;

import dev.rimecast.history.fleet.FleetLook;
import dev.rimecast.history.fleet.FleetReport;
import dev.rimecast.history.fleet.FleetText;
import dev.rimecast.history.query.History;
import java.io.PrintWriter;
import java.time.Duration;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** The fleet itself. */
@Command(
        name = "fleet",
        mixinStandardHelpOptions = true,
        description = {
            "Says how well detection knows the fleet: machines whose expectation no longer fits, with and without an alert that says so;"
                    + " sensors that fall silent or move away; model groups that are another kind than the others. Of each it says how many machines it"
                    + " left out, and why.",
            "Only reads the history, whether or not a server runs. What the words mean: docs/backtest.md."
        },
        footer = ExitCode.FOOTER)
final class FleetCommand implements Callable<Integer> {
    @Mixin
    HistoryOptions history = new HistoryOptions();

    @Option(
            names = "--days",
            defaultValue = "60",
            description = "How far back sensors are looked at (default: ${DEFAULT-VALUE}).")
    int days = 60;

    @Option(
            names = "--fit-days",
            defaultValue = "14",
            description = "How far back expectations are looked at (default: ${DEFAULT-VALUE}).")
    int fitDays = 14;

    @CommandLine.Spec
    CommandLine.Model.@org.jspecify.annotations.Nullable CommandSpec spec;

    @Override
    public Integer call() {
        if (days < 1 || fitDays < 1) {
            throw new InputException("--days and --fit-days must be at least 1, were " + days + " and " + fitDays);
        }
        PrintWriter out = Output.of(spec);
        try (History past = history.open()) {
            FleetReport report = FleetLook.at(
                    past.duck(), Duration.ofDays(days), Duration.ofDays(fitDays), new TimeLeft(PastOptions.err(spec)));
            FleetText.print(report, out);
        }
        return ExitCode.OK;
    }
}
