package dev.rimecast.analytics.expect;

import dev.rimecast.telemetry.cycle.Feature;

/**
 * On which scale a feature is judged: lengths of time and amounts as natural logarithms, so that equal steps are equal ratios; split and
 * evaporator end as they are.
 */
public final class FeatureScale {
    private FeatureScale() {}

    public static boolean isRatio(Feature feature) {
        return switch (feature) {
            case PULL_DOWN, FREEZE, HARVEST, DRAIN_LEVEL, DRAIN_RUN, FILL, WATER_USE, ICE_MADE -> true;
            case SPLIT, EVAPORATOR_END -> false;
        };
    }

    /** Whether the value can be judged at all: a length must be above 0. */
    public static boolean isJudgeable(Feature feature, double value) {
        return Double.isFinite(value) && (!isRatio(feature) || value > 0);
    }

    /** From the feature's unit to the scale. */
    public static double toScale(Feature feature, double value) {
        return isRatio(feature) ? StrictMath.log(value) : value;
    }

    /** From the scale to the feature's unit. */
    public static double toUnit(Feature feature, double scaled) {
        return isRatio(feature) ? StrictMath.exp(scaled) : scaled;
    }

    /** A policy's share or kelvin on the scale: +20 % is ln 1.2. */
    public static double step(Feature feature, double share) {
        return isRatio(feature) ? StrictMath.log1p(share) : share;
    }
}
