package dev.rimecast.telemetry.cycle;

import java.util.Locale;
import java.util.Optional;

/** A quantity of a cycle that a machine's own history predicts. The order is part of stored formats. */
public enum Feature {
    PULL_DOWN("s"),
    FREEZE("s"),
    HARVEST("s"),
    SPLIT("K"),
    EVAPORATOR_END("Cel"),
    DRAIN_LEVEL("s"),
    DRAIN_RUN("s"),
    FILL("s"),
    /** Mains water of a cycle. */
    WATER_USE("kg"),
    /** Ice of a cycle, where a machine weighs or counts it. */
    ICE_MADE("kg");

    private final String code = name().toLowerCase(Locale.ROOT).replace('_', '-');
    private final String unit;

    Feature(String unit) {
        this.unit = unit;
    }

    public String code() {
        return code;
    }

    public String unit() {
        return unit;
    }

    public static Optional<Feature> ofCode(String code) {
        for (Feature feature : values()) {
            if (feature.code.equals(code)) {
                return Optional.of(feature);
            }
        }
        return Optional.empty();
    }
}
