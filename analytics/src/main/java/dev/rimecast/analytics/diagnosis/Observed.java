package dev.rimecast.analytics.diagnosis;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What a diagnosis has to go by.
 *
 * @param about the feature whose change is to be explained
 * @param upward whether it has grown
 * @param features every feature that can be judged now
 * @param course how the change came
 * @param isAfterWork whether it began within days of a visit, a cleaning or a move
 * @param isAfterVisit whether it began within days of an engineer's work on it
 * @param drainSignals whether its drain level signals are alike, as far as that can be told
 * @param ruledOut what a machine that is built like this one cannot have
 * @param freezeEndsBy the machine's kind of control, where it is known
 * @param fillEndsBy the same for its fill
 */
public record Observed(
        Feature about,
        boolean upward,
        Map<Feature, Level> features,
        Course course,
        boolean isAfterWork,
        boolean isAfterVisit,
        DrainSignals drainSignals,
        Set<Cause> ruledOut,
        Optional<EndsBy> freezeEndsBy,
        Optional<EndsBy> fillEndsBy) {
    public Observed {
        features = Map.copyOf(features);
        ruledOut = Set.copyOf(ruledOut);
    }

    /** The same with every feature on the other side of what should be. */
    Observed reversed() {
        Map<Feature, Level> other = new EnumMap<>(Feature.class);
        features.forEach((feature, level) ->
                other.put(feature, new Level(-level.residual(), level.error(), level.material(), level.matrixError())));
        return new Observed(
                about,
                !upward,
                other,
                course,
                isAfterWork,
                isAfterVisit,
                drainSignals,
                ruledOut,
                freezeEndsBy,
                fillEndsBy);
    }

    /**
     * Where one feature stands, on its scale.
     *
     * @param residual median of the last cycles, measured less expected
     * @param error standard deviation of that median around what the machine really does
     * @param material least change that is worth a finding
     * @param matrixError how far a real machine may be beside what the matrix says of it
     */
    public record Level(double residual, double error, double material, double matrixError) {}
}
