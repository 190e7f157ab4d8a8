package dev.rimecast.analytics.diagnosis;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * One line of the matrix: what a cause does, at growing severity.
 *
 * @param weight how often it is the cause, relative to the others
 * @param points change of every feature on its scale (see {@link dev.rimecast.analytics.expect.FeatureScale})
 * @param ifTemperatureEndsFreeze features whose change holds only where the freeze ends by temperature
 */
record Symptoms(
        Cause cause,
        double weight,
        Course course,
        boolean afterWork,
        List<Map<Feature, Double>> points,
        Set<Feature> ifTemperatureEndsFreeze) {

    Symptoms {
        points = List.copyOf(points);
        ifTemperatureEndsFreeze = Set.copyOf(ifTemperatureEndsFreeze);
    }

    /** Change of the feature a share of the way from point {@code index - 1}, or from health, to point {@code index}. */
    double change(Feature feature, int index, double share) {
        double from = index == 0 ? 0 : points.get(index - 1).getOrDefault(feature, 0.0);
        double to = points.get(index).getOrDefault(feature, 0.0);
        return from + (to - from) * share;
    }
}
