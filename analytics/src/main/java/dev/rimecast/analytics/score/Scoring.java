package dev.rimecast.analytics.score;

import dev.rimecast.analytics.score.FalseAlarms.Counts;
import dev.rimecast.analytics.score.Score.Confusion;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Cause;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * Holds alerts against the truth.
 *
 * <p>A fault counts as found if an alert on its machine, with a condition that {@link FittingConditions fits} its cause,
 * was raised at or after its onset and before its deadline. Each alert is accounted for once: received = fitting +
 * beside the fault + false + statements + consequences + care + unjudged.
 */
public final class Scoring {
    private Scoring() {}

    public static Score of(ScoreInput input, FittingConditions fitting) {
        Places places = new Places(input.machines());
        FaultFinder finder = new FaultFinder(input, fitting, places);
        List<FaultResult> faults = faults(input, fitting, places, finder);
        AlertSorting alerts = AlertSorting.of(input, fitting, places);
        boolean withCycles = !input.cycles().isEmpty();
        return new Score(
                faults,
                FaultGroup.of("all", faults, fitting, withCycles),
                byCause(faults, fitting, withCycles),
                new FalseAlarms(alerts.machineYears(), alerts.falseAlarms()),
                Counts.byCondition(alerts.statements()),
                alerts.consequences().size(),
                alerts.care().size(),
                alerts.beside(),
                alerts.unjudged().size(),
                confusions(faults, fitting),
                Calibration.of(faults, fitting));
    }

    /** A room's or link's fault is one, however many machines it meets; it is found where it is found first. */
    private static List<FaultResult> faults(
            ScoreInput input, FittingConditions fitting, Places places, FaultFinder finder) {
        Map<Object, FaultResult> faults = new LinkedHashMap<>();
        for (TruthRow row : input.truth()) {
            if (row.cause().isPresent()) {
                FaultResult result = finder.result(row, row.cause().get());
                boolean isOfSite = fitting.isOfSite(result.cause());
                Optional<String> site = isOfSite ? places.siteOf(row.machine()) : Optional.empty();
                Object key = site.isPresent() ? new OfSite(site.get(), result.cause(), result.onset()) : row;
                faults.merge(key, result, Scoring::foundFirst);
            }
        }
        return List.copyOf(faults.values());
    }

    private record OfSite(String site, Cause cause, Instant onset) {}

    private static FaultResult foundFirst(FaultResult a, FaultResult b) {
        Instant ofA = a.first().map(AlertRow::raisedAt).orElse(Instant.MAX);
        Instant ofB = b.first().map(AlertRow::raisedAt).orElse(Instant.MAX);
        return ofB.isBefore(ofA) ? b : a;
    }

    private static List<FaultGroup> byCause(List<FaultResult> faults, FittingConditions fitting, boolean withCycles) {
        Map<Cause, List<FaultResult>> byCause = new TreeMap<>();
        faults.forEach(fault -> byCause.computeIfAbsent(fault.cause(), cause -> new ArrayList<>())
                .add(fault));
        return byCause.entrySet().stream()
                .map(entry -> FaultGroup.of(entry.getKey().code(), entry.getValue(), fitting, withCycles))
                .toList();
    }

    private record Pair(Cause cause, Optional<Cause> named) {}

    private static List<Confusion> confusions(List<FaultResult> faults, FittingConditions fitting) {
        Map<Pair, Integer> counts = new LinkedHashMap<>();
        for (FaultResult fault : faults) {
            if (fault.isFound() && !Named.isRight(fault, fitting)) {
                counts.merge(new Pair(fault.cause(), Named.first(fault)), 1, Integer::sum);
            }
        }
        return counts.entrySet().stream()
                .map(e -> new Confusion(e.getKey().cause(), e.getKey().named(), e.getValue()))
                .sorted((a, b) -> Integer.compare(b.count(), a.count()))
                .toList();
    }
}
