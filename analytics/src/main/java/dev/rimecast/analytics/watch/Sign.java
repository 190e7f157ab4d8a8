package dev.rimecast.analytics.watch;

import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import java.util.List;

/** Which change of which features is which condition. A split or evaporator that goes down is evidence, not a condition. */
enum Sign {
    SLOW_PULL_DOWN(Condition.SLOW_PULL_DOWN, true, Feature.PULL_DOWN),
    RISING_CONDENSING(Condition.RISING_CONDENSING_TEMPERATURE, true, Feature.SPLIT),
    DRAIN_OVERRUN(Condition.DRAIN_PUMP_OVERRUN, true, Feature.DRAIN_LEVEL, Feature.DRAIN_RUN),
    LONG_FREEZE(Condition.LONG_FREEZE, true, Feature.FREEZE),
    /** A plate that comes to 0 °C too soon is on the way to a freeze that ends too soon: scale, or too little water on it. */
    SHORT_FREEZE(Condition.SHORT_FREEZE, false, Feature.FREEZE, Feature.PULL_DOWN),
    LONG_HARVEST(Condition.LONG_HARVEST, true, Feature.HARVEST),
    SLOW_FILL(Condition.SLOW_FILL, true, Feature.FILL);

    private final Condition condition;
    private final boolean upward;
    private final List<Feature> features;

    Sign(Condition condition, boolean upward, Feature... features) {
        this.condition = condition;
        this.upward = upward;
        this.features = List.of(features);
    }

    Condition condition() {
        return condition;
    }

    boolean isUpward() {
        return upward;
    }

    List<Feature> features() {
        return features;
    }
}
