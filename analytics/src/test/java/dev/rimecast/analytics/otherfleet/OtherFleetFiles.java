package dev.rimecast.analytics.otherfleet;

import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.WeatherFile;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.machine.Channel;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.CompletableFuture;

/**
 * Writes a fleet of the second simulator as files of the contract: {@code machines.csv}, {@code sites.csv},
 * {@code events.csv}, {@code weather.csv}, {@code truth.csv} and {@code telemetry.csv.gz}. To run it:
 *
 * <pre>{@code
 * ./rimecast --version && mvn -B -q '-P!checked' -pl analytics -am test-compile
 * java -cp analytics/target/test-classes:app/target/rimecast.jar dev.rimecast.analytics.otherfleet.OtherFleetFiles \
 *     DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare [SOUND_SHARE]
 * ./rimecast replay DIR/telemetry.csv.gz --register DIR/machines.csv --sites DIR/sites.csv --events DIR/events.csv --out OUT
 * }</pre>
 */
public final class OtherFleetFiles {
    private static final double HALF_DAY_SECONDS = 43_200;

    private OtherFleetFiles() {}

    public static void main(String[] args) throws IOException {
        if (args.length < 6 || args.length > 7) {
            throw new IllegalArgumentException("DIR SEED SITES DAYS SAMPLE_SECONDS full|mixed|bare [SOUND_SHARE]");
        }
        OtherFleetPlan plan = new OtherFleetPlan(
                Long.parseLong(args[1]),
                Integer.parseInt(args[2]),
                Integer.parseInt(args[3]),
                Integer.parseInt(args[4]),
                ChannelSets.valueOf(args[5].toUpperCase(Locale.ROOT)),
                args.length == 7 ? Double.parseDouble(args[6]) : 0.5);
        write(plan, Path.of(args[0]));
    }

    /** Lives through the fleet's time, sites in parallel, and writes it. */
    static void write(OtherFleetPlan plan, Path directory) throws IOException {
        Files.createDirectories(directory);
        OtherFleet fleet = new OtherFleet(plan);
        List<OtherSite> sites = fleet.sites();
        Path log = directory.resolve("telemetry.csv.gz");
        try (TelemetryLogWriter out = new TelemetryLogWriter(log, channels(sites))) {
            int halves = 2 * plan.days();
            CompletableFuture<List<Row>> next = liveOn(sites, 1);
            for (int half = 1; half <= halves; half++) {
                List<Row> rows = next.join();
                next = half < halves ? liveOn(sites, half + 1) : next;
                for (Row row : rows) {
                    out.write(row.machine(), row.timeMillis(), row.readings());
                }
            }
        }
        MachinesFile.write(directory.resolve("machines.csv"), fleet.register().machines());
        SitesFile.write(directory.resolve("sites.csv"), fleet.register().sites());
        EventsFile.write(directory.resolve("events.csv"), fleet.events());
        WeatherFile.write(
                directory.resolve("weather.csv"),
                sites.stream()
                        .flatMap(site -> site.weather(plan.days()).stream())
                        .toList());
        TruthFile.write(directory.resolve("truth.csv"), fleet.truth());
    }

    /** The next half day of all sites, while the last one is being written. */
    private static CompletableFuture<List<Row>> liveOn(List<OtherSite> sites, int half) {
        return CompletableFuture.supplyAsync(() -> sites.parallelStream()
                .flatMap(site -> site.advanceTo(half * HALF_DAY_SECONDS).stream())
                .sorted(Comparator.comparingLong(Row::arrivesMillis).thenComparing(Row::machine))
                .toList());
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
