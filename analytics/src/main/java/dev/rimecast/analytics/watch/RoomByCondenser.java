package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.telemetry.cycle.Feature;

/**
 * Corrects an ambient that was only estimated, by how warm the condenser got in this very cycle: condensing temperature less
 * the split that this machine should have is a second estimate of the room. Both are weighed by their variances. What the
 * split itself is judged by stays the first estimate, else no condenser would ever be found fouled; and the correction is held
 * to {@value #MOST_KELVIN} K, so that a fouled condenser does not excuse a slow freeze.
 */
final class RoomByCondenser {
    private static final double MOST_KELVIN = 2.5;

    private RoomByCondenser() {}

    static Conditions corrected(RawCycle raw, Conditions conditions, WatchedFeatures features, GroupPolicy policy) {
        boolean isMeasured = conditions.ambientSource().equals(Conditions.SENSOR);
        if (isMeasured || !conditions.hasAmbient() || raw.condensingEndCelsius().isEmpty()) {
            return conditions;
        }
        return features.get(Feature.SPLIT)
                .filter(split -> split.isUsable(policy))
                .map(split -> correct(raw.condensingEndCelsius().getAsDouble(), conditions, split, policy))
                .orElse(conditions);
    }

    private static Conditions correct(double condensing, Conditions conditions, Watched split, GroupPolicy policy) {
        Expected expected = split.expect(conditions, policy);
        double noise = policy.get(Feature.SPLIT, FeatureNumber.NOISE);
        double ofCondenser = noise * noise;
        double error = policy.get(PolicyNumber.AMBIENT_ESTIMATE_ERROR_KELVIN);
        double ofEstimate = error * error;
        double excess = condensing - conditions.ambientCelsius() - expected.mean();
        double shift = excess * ofEstimate / (ofEstimate + ofCondenser);
        double held = StrictMath.max(-MOST_KELVIN, StrictMath.min(MOST_KELVIN, shift));
        return new Conditions(
                conditions.ambientCelsius() + held,
                conditions.ambientSpreadKelvin() * noise / StrictMath.sqrt(ofEstimate + ofCondenser),
                conditions.ambientSource(),
                conditions.waterCelsius(),
                conditions.waterSpreadKelvin(),
                conditions.waterSource());
    }
}
