package dev.rimecast.benchmarks.year;

import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.simulator.fleet.FleetFiles;
import dev.rimecast.simulator.fleet.FleetPlan;
import dev.rimecast.simulator.fleet.SimulatedFleet;
import dev.rimecast.simulator.trial.TrialChannels;
import dev.rimecast.simulator.trial.TrialFleet;
import dev.rimecast.simulator.trial.TrialSettings;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.finding.Finding;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Locale;

/**
 * A random fleet that is watched as it lives, and whose people act on what is found ({@link ServiceFirm}): what is mended
 * does not go on. Writes {@code alerts.csv}, {@code alert_history.csv}, {@code truth.csv} and the register, for
 * {@code alarm-figures.py} and {@code score}, and prints what people did. To run it:
 *
 * <pre>{@code
 * java -cp benchmarks/target/benchmarks.jar dev.rimecast.benchmarks.year.AlarmYear DIR [SEED [SITES [DAYS]]]
 * }</pre>
 */
public final class AlarmYear {
    private static final Duration SAMPLING = Duration.ofSeconds(60);

    private AlarmYear() {}

    public static void main(String[] args) throws IOException {
        FleetPlan plan = plan(args);
        SimulatedFleet fleet = new SimulatedFleet(plan);
        List<CaredSite> lived = fleet.sites().parallelStream()
                .map(site -> new CaredSite(plan, site, Told.NOBODY).live())
                .toList();
        write(fleet, lived, Path.of(args[0]));
    }

    static FleetPlan plan(String[] args) {
        if (args.length < 1 || args.length > 4) {
            throw new IllegalArgumentException("DIR [SEED [SITES [DAYS]]]");
        }
        long seed = args.length > 1 ? Long.parseLong(args[1]) : 2026;
        int sites = args.length > 2 ? Integer.parseInt(args[2]) : 76;
        int days = args.length > 3 ? Integer.parseInt(args[3]) : 365;
        return TrialFleet.plan(
                new TrialSettings(seed, sites, days, SAMPLING, TrialChannels.MIXED, TrialSettings.allCauses()));
    }

    /** What detection has raised and what was true into files, and what people did in words. */
    static void write(SimulatedFleet fleet, List<CaredSite> lived, Path out) throws IOException {
        FleetPlan plan = fleet.plan();
        FleetFiles.writeRegister(plan, out);
        List<Finding> findings =
                lived.stream().flatMap(site -> site.findings().stream()).toList();
        AlertsFile.write(out.resolve("alerts.csv"), findings);
        AlertHistoryFile.write(out.resolve("alert_history.csv"), findings);
        TruthFile.write(
                out.resolve(FleetFiles.TRUTH),
                fleet.truth().stream().map(AlarmYear::row).toList());
        int trips = lived.stream().mapToInt(site -> site.firm().trips()).sum();
        int looks = lived.stream().mapToInt(site -> site.firm().looks()).sum();
        int mended = lived.stream().mapToInt(site -> site.firm().mended()).sum();
        int called = lived.stream().mapToInt(site -> site.firm().called()).sum();
        System.out.printf(
                Locale.ROOT,
                "%d machines from %s to %s: %d trips to a site, %d of them for a call; %d machines looked at, %d had a"
                        + " fault, nothing found on %d%n",
                plan.register().machines().size(),
                plan.from(),
                plan.to(),
                trips,
                called,
                looks,
                mended,
                looks - mended);
    }

    private static TruthRow row(Truth truth) {
        return new TruthRow(truth.machine(), truth.cause(), truth.onset(), truth.stopped(), truth.deadline());
    }
}
