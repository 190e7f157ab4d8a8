package dev.rimecast.analytics.policy;

import dev.rimecast.telemetry.yaml.Range;
import java.util.Locale;

/**
 * The numbers that a policy has for every feature of a cycle. For a feature in seconds that is judged as a ratio, spreads,
 * slopes, noise and material change are shares of its value (0.1 is 10 %); for the others they are in its unit.
 */
public enum FeatureNumber {
    /** Of a machine of the group at 25 °C ambient and 15 °C water, in the feature's unit. */
    TYPICAL(Range.ANY),
    TYPICAL_SPREAD(Range.above(0)),
    /** Per kelvin of ambient. */
    AMBIENT_SLOPE(Range.ANY),
    AMBIENT_SLOPE_SPREAD(Range.atLeast(0)),
    /** Per kelvin of water. */
    WATER_SLOPE(Range.ANY),
    WATER_SLOPE_SPREAD(Range.atLeast(0)),
    /** Change of that slope per kelvin of water, both ways from 15 °C. */
    WATER_CURVE(Range.ANY),
    WATER_CURVE_SPREAD(Range.atLeast(0)),
    /** Per kelvin that the ambient is below 20 °C, on top of the ambient slope. */
    COLD_SLOPE(Range.ANY),
    COLD_SLOPE_SPREAD(Range.atLeast(0)),
    /** Share of what the slopes add beyond the conditions learned in the mean that may be wrong, since nothing is straight. */
    BEND(Range.of(0, 2)),
    /** Standard deviation of one cycle around the expectation. */
    NOISE(Range.above(0)),
    /** The least change that is worth a finding. */
    MATERIAL(Range.above(0)),
    /** How far a real machine may be beside what the matrix of causes says of it. */
    MATRIX_ERROR(Range.above(0));

    private final Range range;

    FeatureNumber(Range range) {
        this.range = range;
    }

    public String key() {
        return name().toLowerCase(Locale.ROOT);
    }

    public Range range() {
        return range;
    }
}
