package dev.rimecast.simulator.fleet;

import dev.rimecast.simulator.fault.Truth;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.SitesFile;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.log.TelemetryLogWriter;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CompletionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.stream.Collectors;

/** Lives through a plan and writes it as the files of the contract, for a replay and its score. */
public final class FleetFiles {
    public static final String MACHINES = "machines.csv";
    public static final String SITES = "sites.csv";
    public static final String EVENTS = "events.csv";
    public static final String TRUTH = "truth.csv";
    public static final String TELEMETRY = "telemetry.csv.gz";

    private static final Duration STEP = Duration.ofHours(1);

    private FleetFiles() {}

    /**
     * Writes the five files; those that are there are replaced.
     *
     * @return how many readings were written
     */
    public static long write(FleetPlan plan, Path directory) throws IOException {
        writeRegister(plan, directory);
        Register register = plan.register();
        SimulatedFleet fleet = new SimulatedFleet(plan);
        Map<String, String> gateways =
                register.machines().stream().collect(Collectors.toMap(Machine::id, Machine::gateway));
        List<EventRow> events = new ArrayList<>();
        long readings = 0;
        ExecutorService writer = Executors.newSingleThreadExecutor();
        try (TelemetryLogWriter log =
                new TelemetryLogWriter(directory.resolve(TELEMETRY), Arrays.asList(Channel.values()))) {
            CompletableFuture<Long> written = CompletableFuture.completedFuture(0L);
            for (Instant at = plan.from(); at.isBefore(plan.to()); ) {
                at = min(at.plus(STEP), plan.to());
                List<Reading> span = advance(fleet, at, events);
                // One span is written while the next is simulated.
                readings += written.join();
                written = CompletableFuture.supplyAsync(() -> writeRows(span, plan, gateways, log), writer);
            }
            readings += written.join();
        } catch (CompletionException e) {
            if (e.getCause() instanceof UncheckedIOException failure) {
                throw failure.getCause();
            }
            throw e;
        } finally {
            writer.shutdown();
        }
        events.sort(Comparator.comparing(EventRow::at));
        EventsFile.write(directory.resolve(EVENTS), events);
        TruthFile.write(
                directory.resolve(TRUTH),
                fleet.truth().stream().map(FleetFiles::row).toList());
        return readings;
    }

    /** Writes machines and sites, and nothing of what happens to them. */
    public static void writeRegister(FleetPlan plan, Path directory) throws IOException {
        Files.createDirectories(directory);
        MachinesFile.write(directory.resolve(MACHINES), plan.register().machines());
        SitesFile.write(directory.resolve(SITES), plan.register().sites());
    }

    /** All sites' readings of one span, so ordered that those of one machine and time stand together. */
    private static List<Reading> advance(SimulatedFleet fleet, Instant to, List<EventRow> events) {
        List<Reading> readings = new ArrayList<>();
        // Sites know nothing of each other: they run on all processors, and are put together in the plan's order.
        List<SiteBatch> batches =
                fleet.sites().parallelStream().map(site -> site.advanceTo(to)).toList();
        for (SiteBatch batch : batches) {
            readings.addAll(batch.readings());
            for (Happened event : batch.events()) {
                events.add(row(batch.site(), event));
            }
        }
        readings.sort(Comparator.comparingLong(Reading::timeMillis).thenComparing(Reading::machine));
        return readings;
    }

    /** Writes what was not lost on the way, and returns how many readings that were. */
    private static long writeRows(
            List<Reading> readings, FleetPlan plan, Map<String, String> gateways, TelemetryLogWriter log) {
        int from = 0;
        long written = 0;
        for (int i = 1; i <= readings.size(); i++) {
            Reading first = readings.get(from);
            if (i == readings.size()
                    || readings.get(i).timeMillis() != first.timeMillis()
                    || !readings.get(i).machine().equals(first.machine())) {
                if (!plan.isLost(gateways.getOrDefault(first.machine(), ""), first.timeMillis())) {
                    writeRow(readings.subList(from, i), log);
                    written += i - from;
                }
                from = i;
            }
        }
        return written;
    }

    private static void writeRow(List<Reading> row, TelemetryLogWriter log) {
        try {
            log.write(row.get(0).machine(), row.get(0).timeMillis(), row);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static EventRow row(String site, Happened event) {
        return new EventRow(
                event.at(), event.machine(), Optional.of(site), event.kind(), event.detail(), event.by(), event.job());
    }

    private static TruthRow row(Truth truth) {
        return new TruthRow(truth.machine(), truth.cause(), truth.onset(), truth.stopped(), truth.deadline());
    }

    private static Instant min(Instant a, Instant b) {
        return a.isBefore(b) ? a : b;
    }
}
