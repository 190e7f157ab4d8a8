package dev.rimecast.analytics.score;

import dev.rimecast.analytics.score.FaultResult.Ran;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.CycleRow;
import dev.rimecast.telemetry.file.result.NamedCause;
import dev.rimecast.telemetry.file.result.RevisionRow;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Finds what was said of each fault. */
final class FaultFinder {
    private final ScoreInput input;
    private final FittingConditions fitting;
    private final Places places;
    private final Map<String, List<RevisionRow>> history = new HashMap<>();
    private final Map<String, List<CycleRow>> cycles = new HashMap<>();

    private record Said(Instant at, List<NamedCause> causes) {
        double first() {
            return causes.get(0).probability();
        }
    }

    FaultFinder(ScoreInput input, FittingConditions fitting, Places places) {
        this.input = input;
        this.fitting = fitting;
        this.places = places;
        input.history()
                .forEach(row -> history.computeIfAbsent(row.alert(), alert -> new ArrayList<>())
                        .add(row));
        input.cycles()
                .forEach(row -> cycles.computeIfAbsent(row.machine(), machine -> new ArrayList<>())
                        .add(row));
    }

    FaultResult result(TruthRow row, Cause cause) {
        Instant onset = row.onset().orElseThrow();
        Instant deadline = row.deadline().orElseThrow();
        List<AlertRow> hits = input.alerts().stream()
                .filter(alert -> fitting.fits(alert.condition(), cause))
                .filter(alert -> !alert.raisedAt().isBefore(onset))
                .filter(alert -> places.isAbout(alert, row.machine()))
                .sorted(Comparator.comparing(AlertRow::raisedAt))
                .toList();
        Optional<AlertRow> first = hits.stream().findFirst();
        Optional<Ran> ran = first.filter(alert -> !cycles.isEmpty())
                .map(alert -> ran(cycles.getOrDefault(row.machine(), List.of()), onset, alert.raisedAt()));
        return new FaultResult(row.machine(), cause, onset, deadline, first, ran, named(hits, deadline));
    }

    /** The last diagnosis before the deadline; of two at the same time the more certain. */
    private List<NamedCause> named(List<AlertRow> hits, Instant deadline) {
        List<Said> said = new ArrayList<>();
        for (AlertRow alert : hits) {
            if (!alert.raisedAt().isBefore(deadline)) {
                continue;
            }
            if (input.history().isEmpty()) {
                said.add(new Said(alert.raisedAt(), alert.causes()));
            }
            for (RevisionRow revision : history.getOrDefault(alert.alert(), List.of())) {
                if (!revision.at().isAfter(deadline)) {
                    said.add(new Said(revision.at(), revision.causes()));
                }
            }
        }
        return said.stream()
                .filter(s -> !s.causes().isEmpty())
                .max(Comparator.comparing(Said::at).thenComparing(Said::first))
                .map(Said::causes)
                .orElse(List.of());
    }

    private static Ran ran(List<CycleRow> cycles, Instant from, Instant to) {
        int begun = 0;
        double hours = 0;
        for (CycleRow cycle : cycles) {
            Instant start = cycle.freezeStart();
            double seconds =
                    cycle.freezeSeconds().orElse(0) + cycle.harvestSeconds().orElse(0);
            Instant end = start.plusMillis(StrictMath.round(seconds * 1000));
            begun += !start.isBefore(from) && start.isBefore(to) ? 1 : 0;
            Duration inside = Duration.between(start.isBefore(from) ? from : start, end.isAfter(to) ? to : end);
            hours += Math.max(0, inside.toMillis() / 3_600_000.0);
        }
        return new Ran(begun, hours);
    }
}
