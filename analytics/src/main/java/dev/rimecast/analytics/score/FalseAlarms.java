package dev.rimecast.analytics.score;

import dev.rimecast.analytics.statistics.PoissonBound;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.finding.Condition;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * Alerts about machines with which nothing was wrong: sound ones, and faulty ones before their onset.
 *
 * @param machineYears watched in that state
 * @param alarms in order of time
 */
public record FalseAlarms(double machineYears, List<AlertRow> alarms) {
    private static final double CONFIDENCE = 0.9;

    public FalseAlarms {
        alarms = alarms.stream()
                .sorted(Comparator.comparing(AlertRow::raisedAt).thenComparing(AlertRow::alert))
                .toList();
    }

    /** False alarms a machine-year; 0 where nothing was watched. */
    public double perMachineYear() {
        return machineYears > 0 ? alarms.size() / machineYears : 0;
    }

    /** What the true rate does not exceed, one-sided 90 % (Garwood). Infinite where nothing was watched. */
    public double upperPerMachineYear() {
        return PoissonBound.upper(alarms.size(), CONFIDENCE) / machineYears;
    }

    public Map<Condition, Integer> byCondition() {
        return Counts.byCondition(alarms);
    }

    /** Counting of alerts. */
    static final class Counts {
        private Counts() {}

        static Map<Condition, Integer> byCondition(List<AlertRow> alerts) {
            Map<Condition, Integer> counts = new EnumMap<>(Condition.class);
            alerts.forEach(alert -> counts.merge(alert.condition(), 1, Integer::sum));
            return counts;
        }
    }
}
