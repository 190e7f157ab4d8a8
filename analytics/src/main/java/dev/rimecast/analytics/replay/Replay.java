package dev.rimecast.analytics.replay;

import dev.rimecast.analytics.monitor.MonitorCounts;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.WeatherRow;
import dev.rimecast.telemetry.file.log.RejectedLine;
import dev.rimecast.telemetry.file.result.AlertHistoryFile;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.file.result.CyclesFile;
import dev.rimecast.telemetry.file.result.ProofsFile;
import dev.rimecast.telemetry.file.result.RejectsFile;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.proof.Proof;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * Runs recorded telemetry through the monitors of its sites, and writes what they decide.
 *
 * <p>Each site gets a log as ingest would have written it: its register rows, a pack for each row, events in order of time, and
 * a tick for every whole minute that the newest reading of the site has passed. Sites are decided in parallel, each by one
 * thread, so the bytes of the results do not depend on the number of threads.
 *
 * <p>Memory: a few thousand rows on their way, the monitors, and the results. A recording that holds one machine after the
 * other, and not one minute after the other, is first sorted by machine into files beside the results.
 */
public final class Replay {
    public static final String CYCLES = "cycles.csv";
    public static final String ALERTS = "alerts.csv";
    public static final String ALERT_HISTORY = "alert_history.csv";
    public static final String PROOFS = "proofs.csv";
    public static final String REJECTS = "rejects.csv";

    private Replay() {}

    /**
     * What is replayed.
     *
     * @param logs telemetry logs ({@code .csv}, also compressed) and captures of MQTT traffic ({@code .json},
     *     {@code .jsonl}, {@code .ndjson}, also compressed); together in order of time
     * @param events in any order
     * @param weather in any order; of each day the next two weeks are told
     */
    public record Input(
            List<Path> logs, Register register, List<EventRow> events, List<WeatherRow> weather, Policy policy) {
        public Input {
            logs = List.copyOf(logs);
            events = List.copyOf(events);
            weather = List.copyOf(weather);
            if (logs.isEmpty()) {
                throw new IllegalArgumentException("there is no log to replay");
            }
        }
    }

    /**
     * What came out.
     *
     * @param readings of machines in the register
     * @param counts what became of them; their sum is {@code readings}
     */
    public record Summary(long readings, MonitorCounts counts, int cycles, int alerts, int rejects) {}

    /** Everything that was decided, in the order of the sites' names and then of each site's log. */
    record Decided(
            long readings,
            MonitorCounts counts,
            List<Cycle> cycles,
            List<Finding> findings,
            List<Proof> proofs,
            List<RejectedLine> rejects) {}

    /**
     * Replays and writes {@value #CYCLES}, {@value #ALERTS}, {@value #ALERT_HISTORY}, {@value #PROOFS} and {@value #REJECTS}.
     *
     * @param directory is made if it is not there
     * @param threads that decide, at least 1; one more reads
     * @throws IOException if a file can't be read or written
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if a log is none
     */
    public static Summary run(Input input, Path directory, int threads) throws IOException {
        Files.createDirectories(directory);
        Decided decided = decide(input, directory, threads);
        CyclesFile.write(directory.resolve(CYCLES), decided.cycles());
        AlertsFile.write(directory.resolve(ALERTS), decided.findings());
        AlertHistoryFile.write(directory.resolve(ALERT_HISTORY), decided.findings());
        ProofsFile.write(directory.resolve(PROOFS), decided.proofs());
        RejectsFile.write(directory.resolve(REJECTS), decided.rejects());
        long alerts = decided.findings().stream()
                .filter(f -> f.step() == Finding.Step.RAISED)
                .count();
        return new Summary(
                decided.readings(),
                decided.counts(),
                decided.cycles().size(),
                Math.toIntExact(alerts),
                decided.rejects().size());
    }

    private static Decided decide(Input input, Path directory, int threads) throws IOException {
        try (RowSource rows = MergedRows.open(input.logs())) {
            return new SiteRuns(input, threads).run(rows);
        } catch (OneMachineAfterTheOther e) {
            return decideSorted(input, directory, threads);
        }
    }

    private static Decided decideSorted(Input input, Path directory, int threads) throws IOException {
        Path spool = Files.createTempDirectory(directory, "sorting-");
        try (RowSource rows = MergedRows.open(input.logs());
                RowSource sorted = MachineSpool.sort(rows, spool)) {
            return new SiteRuns(input, threads).run(sorted);
        } finally {
            Files.deleteIfExists(spool);
        }
    }
}
