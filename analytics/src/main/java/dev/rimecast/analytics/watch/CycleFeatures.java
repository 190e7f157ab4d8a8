package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The features of a cycle that say something about the machine. The first cycles after a rest don't: the plate is warm. The
 * split and the end of the freeze settle sooner and are judged from the second. Lengths that a clock ends are no measure of anything.
 */
final class CycleFeatures {
    /** Of what lies anywhere between two readings (uniform): variance of its error over the square of how far they are apart. */
    private static final double VARIANCE_OF_ONE_TURN = 1.0 / 12;

    /** The plate falls so much faster at the end of its freeze than in the mean below 0 °C [common practice]. */
    private static final double END_STEEPER = 1.6;

    private CycleFeatures() {}

    /**
     * Standard deviation of a freeze or harvest, s, since its turns lie somewhere between two readings, and of the end of a freeze, K, since the lowest one was read
     * somewhere before it. A machine whose cycle is a whole number of the gateway's steps makes the same error all day, and one that shifts to and fro between two
     * numbers seems to have hardly any, so this can't be learned from how its cycles scatter. A pull-down ends with a line through 0 °C, and its scatter is learned.
     */
    static double ofReadings(Feature feature, RawCycle raw) {
        return switch (feature) {
            case FREEZE, HARVEST -> raw.apartSeconds() * StrictMath.sqrt(2 * VARIANCE_OF_ONE_TURN);
            case EVAPORATOR_END ->
                raw.plateApartSeconds() * endKelvinPerSecond(raw) * StrictMath.sqrt(VARIANCE_OF_ONE_TURN);
            case PULL_DOWN, FILL, DRAIN_LEVEL, DRAIN_RUN, WATER_USE, ICE_MADE, SPLIT -> 0;
        };
    }

    /** How fast the plate falls when its freeze ends, of which the lowest reading sees anything up to a whole step less. */
    private static double endKelvinPerSecond(RawCycle raw) {
        double below = raw.freezeSeconds().orElse(0) - raw.pullDownSeconds().orElse(0);
        return below <= 0
                ? 0
                : END_STEEPER * Math.max(0, -raw.evaporatorEndCelsius().orElse(0)) / below;
    }

    static Map<Feature, Double> of(RawCycle raw, Optional<Conditions> ofSplit, RuleContext context) {
        Map<Feature, Double> features = new EnumMap<>(Feature.class);
        Machine machine = context.machine();
        if (machine.kind() == Machine.Kind.BATCH && raw.complete()) {
            double excluded = context.policy().get(PolicyNumber.EXCLUDED_CYCLES);
            double settled = Math.min(1, excluded);
            if (raw.cyclesSinceRest() >= excluded) {
                put(features, Feature.PULL_DOWN, raw.pullDownSeconds());
                if (!isByTime(machine.freezeEndsBy())) {
                    put(features, Feature.FREEZE, raw.freezeSeconds());
                }
                if (!isByTime(machine.harvestEndsBy())) {
                    put(features, Feature.HARVEST, raw.harvestSeconds());
                }
            }
            if (raw.cyclesSinceRest() >= settled) {
                put(features, Feature.EVAPORATOR_END, raw.evaporatorEndCelsius());
            }
            boolean isAir = machine.condenserCooling() == Machine.Cooling.AIR;
            if (raw.cyclesSinceRest() >= settled && isAir && ofSplit.isPresent()) {
                double air = ofSplit.get().ambientCelsius();
                raw.condensingEndCelsius().ifPresent(c -> features.put(Feature.SPLIT, c - air));
            }
        }
        put(features, Feature.DRAIN_LEVEL, raw.drainLevelMaxSeconds());
        raw.drainRunMaxSeconds()
                .ifPresent(s -> put(
                        features,
                        Feature.DRAIN_RUN,
                        OptionalDouble.of(s - context.limits().drainRunOnSeconds())));
        if (machine.condenserCooling() != Machine.Cooling.WATER) {
            // Otherwise the meter counts what cools the condenser, too, which its valve doses by the pressure.
            put(features, Feature.WATER_USE, raw.waterLitres());
        }
        put(features, Feature.ICE_MADE, raw.iceKilograms());
        if (!isByTime(machine.fillEndsBy())) {
            put(features, Feature.FILL, raw.fillSeconds());
        }
        return features;
    }

    private static void put(Map<Feature, Double> features, Feature feature, OptionalDouble value) {
        if (value.isPresent() && FeatureScale.isJudgeable(feature, value.getAsDouble())) {
            features.put(feature, value.getAsDouble());
        }
    }

    private static boolean isByTime(Optional<EndsBy> endsBy) {
        return endsBy.filter(EndsBy.TIME::equals).isPresent();
    }
}
