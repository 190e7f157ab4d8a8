package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.CycleRow;
import dev.rimecast.telemetry.file.result.RevisionRow;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Instant;
import java.util.List;

/**
 * What is held against what.
 *
 * @param history empty: diagnoses are taken from the alerts, which hold the last one
 * @param cycles empty: delays are said in hours only
 * @param from where the record begins
 * @param to where it ends
 */
public record ScoreInput(
        List<TruthRow> truth,
        List<AlertRow> alerts,
        List<RevisionRow> history,
        List<CycleRow> cycles,
        List<Machine> machines,
        Instant from,
        Instant to) {
    public ScoreInput {
        truth = List.copyOf(truth);
        alerts = List.copyOf(alerts);
        history = List.copyOf(history);
        cycles = List.copyOf(cycles);
        machines = List.copyOf(machines);
        if (!from.isBefore(to)) {
            throw new IllegalArgumentException("the record must begin before it ends, was " + from + " to " + to);
        }
        for (TruthRow row : truth) {
            if (row.cause().isPresent()
                    && (row.onset().isEmpty() || row.deadline().isEmpty())) {
                throw new IllegalArgumentException(
                        "the truth of " + row.machine() + " names a cause but not both onset and deadline");
            }
            if (row.cause().isPresent()
                    && !row.onset().orElseThrow().isBefore(row.deadline().orElseThrow())) {
                throw new IllegalArgumentException(
                        "the truth of " + row.machine() + " has a deadline that is not after its onset");
            }
        }
    }
}
