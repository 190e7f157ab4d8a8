package dev.rimecast.app.command;

import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.util.EnumSet;
import java.util.Set;
import picocli.CommandLine.Option;

/** What a trial fleet is made from. */
final class TrialOptions {
    @Option(names = "--trial", required = true, description = "A random fleet to measure detection on.")
    boolean trial;

    @Option(
            names = "--seed",
            paramLabel = "N",
            defaultValue = "1",
            description = "Another seed, another fleet (default: ${DEFAULT-VALUE}).")
    long seed;

    @Option(
            names = "--sites",
            paramLabel = "N",
            defaultValue = "24",
            description = "Sites of three to five machines (default: ${DEFAULT-VALUE}).")
    int sites;

    @Option(
            names = "--days",
            paramLabel = "DAYS",
            defaultValue = "120",
            description = "Length of the run; faults begin after 15 days (default: ${DEFAULT-VALUE}).")
    int days;

    @Option(
            names = "--channels",
            paramLabel = "SET",
            defaultValue = "mixed",
            description = "What gateways read: full; mixed; bare, i.e. two temperatures only"
                    + " (default: ${DEFAULT-VALUE}).")
    TrialChannels channels = TrialChannels.MIXED;

    @Option(
            names = "--faults",
            paramLabel = "CAUSES",
            defaultValue = "all",
            description = "all; none; or causes of the contract with commas between (default: ${DEFAULT-VALUE}).")
    String faults = "all";

    FleetPlan plan(Duration sampling) {
        return TrialFleet.plan(new TrialSettings(seed, sites, days, sampling, channels, causes()));
    }

    private Set<Cause> causes() {
        if (faults.equals("all")) {
            return TrialSettings.allCauses();
        }
        Set<Cause> causes = EnumSet.noneOf(Cause.class);
        if (!faults.equals("none")) {
            for (String code : faults.split(",", -1)) {
                causes.add(Cause.ofCode(code.strip())
                        .orElseThrow(() -> new IllegalArgumentException("--faults: '" + code
                                + "' is no cause; say all, none, or codes such as scale,fan-weak")));
            }
        }
        return causes;
    }
}
