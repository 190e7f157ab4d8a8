package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A cycle, and what is thought of it.
 *
 * @param place what it was judged by
 * @param ofSplit what its split was judged by; empty where the room is not known but for the split itself
 * @param measured every feature that says something about the machine, in its unit
 * @param residuals those that could be judged, against what is expected of this machine
 */
public record JudgedCycle(
        RawCycle raw,
        Conditions place,
        Optional<Conditions> ofSplit,
        Map<Feature, Double> measured,
        List<Residual> residuals) {
    public JudgedCycle {
        measured = Map.copyOf(measured);
        residuals = List.copyOf(residuals);
    }

    /** What a feature was judged by. */
    public Conditions placeOf(Feature feature) {
        return feature == Feature.SPLIT ? ofSplit.orElse(place) : place;
    }

    /**
     * By how many kelvin warmer the water was than it was taken to be, if nothing else has changed: of all that a cycle shows,
     * pull-down follows it by far the most. Empty for a cycle whose pull-down could not be judged.
     */
    public OptionalDouble warmerWaterKelvin(GroupPolicy policy) {
        double slope = policy.get(Feature.PULL_DOWN, FeatureNumber.WATER_SLOPE);
        return residuals.stream()
                .filter(residual -> residual.feature() == Feature.PULL_DOWN && slope > 0)
                .mapToDouble(residual -> StrictMath.log(residual.measured() / residual.expected()) / slope)
                .findFirst();
    }

    /** Condensing temperature over ambient at the end of the freeze, K, where the room is known for it. */
    public OptionalDouble splitKelvin() {
        return raw.condensingEndCelsius().isPresent() && ofSplit.isPresent()
                ? OptionalDouble.of(
                        raw.condensingEndCelsius().getAsDouble() - ofSplit.get().ambientCelsius())
                : OptionalDouble.empty();
    }
}
