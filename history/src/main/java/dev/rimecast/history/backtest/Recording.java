package dev.rimecast.history.backtest;

import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.replay.Replay;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.file.result.CycleRow;
import dev.rimecast.telemetry.file.result.CyclesFile;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** A recording instead of the history: decided as replay does. */
public final class Recording {
    private Recording() {}

    /**
     * What came of it with one policy.
     *
     * @param decided without findings
     */
    public record Alerts(Decided decided, List<AlertRow> alerts) {}

    /**
     * Decides it.
     *
     * @param directory where the results of the replay go
     * @throws IOException if a file can't be read or written
     */
    public static Alerts decide(
            List<Path> logs,
            Register register,
            List<EventRow> events,
            Optional<Policy> policy,
            Path directory,
            int threads)
            throws IOException {
        Replay.Summary summary = Replay.run(
                new Replay.Input(logs, register, events, List.of(), policy.orElse(Policy.standard())),
                directory,
                threads);
        List<CycleRow> cycles = CyclesFile.read(directory.resolve(Replay.CYCLES));
        Map<String, Decided.Span> watched = new HashMap<>();
        Instant from = cycles.stream()
                .map(CycleRow::freezeStart)
                .min(Instant::compareTo)
                .orElse(Instant.EPOCH);
        Instant to = cycles.stream()
                .map(CycleRow::freezeStart)
                .max(Instant::compareTo)
                .orElse(Instant.EPOCH);
        for (Machine machine : register.machines()) {
            if (from.isBefore(to)) {
                watched.put(machine.id(), new Decided.Span(from, to));
            }
        }
        List<EventRow> placed = events.stream()
                .map(event -> new EventRow(
                        event.at(),
                        event.machine(),
                        event.siteIn(register),
                        event.kind(),
                        event.detail(),
                        event.by(),
                        event.job()))
                .toList();
        return new Alerts(
                new Decided(register.machines(), watched, placed, List.of(), summary.readings(), cycles.size()),
                AlertsFile.read(directory.resolve(Replay.ALERTS)));
    }
}
