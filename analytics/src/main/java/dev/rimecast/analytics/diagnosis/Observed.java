package dev.rimecast.analytics.diagnosis;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.Map;
import java.util.Optional;

/**
 * What a diagnosis has to go by.
 *
 * @param about the feature whose change is to be explained
 * @param upward whether it has grown
 * @param features every feature that can be judged now
 * @param course how the change came
 * @param isAfterWork whether it began within days of a visit, a cleaning or a move
 * @param freezeEndsBy the machine's kind of control, where it is known
 */
public record Observed(
        Feature about,
        boolean upward,
        Map<Feature, Level> features,
        Course course,
        boolean isAfterWork,
        Optional<EndsBy> freezeEndsBy) {
    public Observed {
        features = Map.copyOf(features);
    }

    /**
     * Where one feature stands, on its scale.
     *
     * @param residual median of the last cycles, measured less expected
     * @param sigma standard deviation of one healthy cycle
     * @param material least change that is worth a finding
     */
    public record Level(double residual, double sigma, double material) {}
}
