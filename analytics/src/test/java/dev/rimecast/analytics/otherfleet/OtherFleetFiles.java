package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.machine.Channel;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/**
 * Writes a fleet of the second simulator as files of the contract: {@code machines.csv}, {@code sites.csv},
 * {@code events.csv}, {@code truth.csv} and {@code telemetry.csv.gz}. To run it:
 *
 * <pre>{@code
 * mvn -B -q -Dquick -pl analytics -am test-compile
 * mvn -B -q -Dquick -pl analytics dependency:build-classpath -Dmdep.outputFile=/tmp/analytics.cp   # once
 * java -cp analytics/target/test-classes:analytics/target/classes:telemetry/target/classes:$(cat /tmp/analytics.cp) \
 *     dev.rimecast.analytics.otherfleet.OtherFleetFiles DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare
 * ./rimecast replay DIR/telemetry.csv.gz --register DIR/machines.csv --sites DIR/sites.csv --events DIR/events.csv --out OUT
 * }</pre>
 */
public final class OtherFleetFiles {
    private static final double HALF_DAY_SECONDS = 43_200;

    private OtherFleetFiles() {}

    public static void main(String[] args) throws IOException {
        if (args.length != 6) {
            throw new IllegalArgumentException("DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare");
        }
        OtherFleetPlan plan = new OtherFleetPlan(
                Long.parseLong(args[1]),
                Integer.parseInt(args[2]),
                Integer.parseInt(args[3]),
                Integer.parseInt(args[4]),
                ChannelSets.valueOf(args[5].toUpperCase(Locale.ROOT)),
                0.5);
        write(plan, Path.of(args[0]));
    }

    /** Lives through the fleet's time, sites in parallel, and writes it. */
    static void write(OtherFleetPlan plan, Path directory) throws IOException {
        Files.createDirectories(directory);
        OtherFleet fleet = new OtherFleet(plan);
        List<OtherSite> sites = fleet.sites();
        Path log = directory.resolve("telemetry.csv.gz");
        try (TelemetryLogWriter out = new TelemetryLogWriter(log, channels(sites))) {
            double end = plan.days() * 86_400.0;
            for (double until = HALF_DAY_SECONDS; until <= end; until += HALF_DAY_SECONDS) {
                double to = until;
                List<Row> rows = new ArrayList<>();
                sites.parallelStream().map(site -> site.advanceTo(to)).toList().forEach(rows::addAll);
                rows.sort(Comparator.comparingLong(Row::arrivesMillis).thenComparing(Row::machine));
                for (Row row : rows) {
                    out.write(row.machine(), row.timeMillis(), row.readings());
                }
            }
        }
        MachinesFile.write(directory.resolve("machines.csv"), fleet.register().machines());
        SitesFile.write(directory.resolve("sites.csv"), fleet.register().sites());
        EventsFile.write(directory.resolve("events.csv"), fleet.events());
        TruthFile.write(directory.resolve("truth.csv"), fleet.truth());
    }

    private static List<Channel> channels(List<OtherSite> sites) {
        return sites.stream()
                .flatMap(site -> site.stations.stream())
                .flatMap(station -> station.plan.channels().stream())
                .distinct()
                .sorted()
                .toList();
    }
}
