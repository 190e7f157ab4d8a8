package dev.rimecast.analytics.fleetfiles;

import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.WeatherFile;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.CompletableFuture;

/**
 * Writes a simulated fleet as files of the contract: {@code machines.csv}, {@code sites.csv}, {@code events.csv},
 * {@code weather.csv}, {@code truth.csv} and {@code telemetry.csv.gz}.
 */
public final class FleetFiles {
    private static final double HALF_DAY_SECONDS = 43_200;

    private FleetFiles() {}

    /** Lives through the fleet's time; each half day is lived while the one before is being written. */
    public static void write(LivingFleet fleet, int days, Path directory) throws IOException {
        Files.createDirectories(directory);
        Path log = directory.resolve("telemetry.csv.gz");
        try (TelemetryLogWriter out = new TelemetryLogWriter(log, fleet.channels())) {
            int halves = 2 * days;
            CompletableFuture<List<Row>> next = liveOn(fleet, 1);
            for (int half = 1; half <= halves; half++) {
                List<Row> rows = next.join();
                next = half < halves ? liveOn(fleet, half + 1) : next;
                for (Row row : rows) {
                    out.write(row.machine(), row.timeMillis(), row.readings());
                }
            }
        }
        MachinesFile.write(directory.resolve("machines.csv"), fleet.register().machines());
        SitesFile.write(directory.resolve("sites.csv"), fleet.register().sites());
        EventsFile.write(directory.resolve("events.csv"), fleet.events());
        WeatherFile.write(directory.resolve("weather.csv"), fleet.weather());
        TruthFile.write(directory.resolve("truth.csv"), fleet.truth());
    }

    private static CompletableFuture<List<Row>> liveOn(LivingFleet fleet, int half) {
        return CompletableFuture.supplyAsync(() -> fleet.advanceTo(half * HALF_DAY_SECONDS));
    }
}
