package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import java.util.List;

/** Which change of which features is which condition. A split that goes down is evidence, not a condition. */
enum Sign {
    SLOW_PULL_DOWN(Condition.SLOW_PULL_DOWN, up(Feature.PULL_DOWN)),
    RISING_CONDENSING(Condition.RISING_CONDENSING_TEMPERATURE, up(Feature.SPLIT)),
    DRAIN_OVERRUN(Condition.DRAIN_PUMP_OVERRUN, up(Feature.DRAIN_LEVEL), up(Feature.DRAIN_RUN)),
    LONG_FREEZE(Condition.LONG_FREEZE, up(Feature.FREEZE)),
    /** A plate that comes to 0 °C too soon is on the way to a freeze that ends too soon: scale, or too little water on it. */
    SHORT_FREEZE(Condition.SHORT_FREEZE, down(Feature.FREEZE), down(Feature.PULL_DOWN)),
    LONG_HARVEST(Condition.LONG_HARVEST, up(Feature.HARVEST)),
    SLOW_FILL(Condition.SLOW_FILL, up(Feature.FILL)),
    WATER_USE_HIGH(Condition.WATER_USE_HIGH, up(Feature.WATER_USE)),
    /**
     * Less ice: as the machine counts it; or by a plate that gets too cold, since water is missing on it; or, where it is not the
     * plate's own temperature that ends the freeze, by one that does not get cold enough in it.
     */
    LOW_OUTPUT(
            Condition.LOW_OUTPUT,
            down(Feature.ICE_MADE),
            down(Feature.EVAPORATOR_END),
            new Change(Feature.EVAPORATOR_END, true, true));

    /** Every sign; {@code values()} makes a copy each time. */
    static final List<Sign> ALL = List.of(values());

    /**
     * A change of a feature.
     *
     * @param unlessPlateEndsFreeze whether it only counts where a clock, a level or a thickness ends the freeze
     */
    record Change(Feature feature, boolean upward, boolean unlessPlateEndsFreeze) {
        boolean countsFor(Machine machine) {
            return !unlessPlateEndsFreeze
                    || machine.freezeEndsBy()
                            .filter(by -> by != EndsBy.TEMPERATURE)
                            .isPresent();
        }

        double sign() {
            return upward ? 1 : -1;
        }
    }

    private final Condition condition;
    private final List<Change> changes;

    Sign(Condition condition, Change... changes) {
        this.condition = condition;
        this.changes = List.of(changes);
    }

    private static Change up(Feature feature) {
        return new Change(feature, true, false);
    }

    private static Change down(Feature feature) {
        return new Change(feature, false, false);
    }

    /** Whether it is what a box before a grille, or an open lid, does for some hours, and what is gone once that is put right. */
    boolean mayPass() {
        return this == SLOW_PULL_DOWN || this == RISING_CONDENSING || this == LONG_FREEZE;
    }

    Condition condition() {
        return condition;
    }

    /** The first that has happened names the condition. */
    List<Change> changes() {
        return changes;
    }

    boolean isAbout(Feature feature) {
        for (Change change : changes) {
            if (change.feature() == feature) {
                return true;
            }
        }
        return false;
    }

    /** Whether a finding about the feature is open. */
    static boolean isOpenAbout(Feature feature, RuleContext context) {
        for (Sign sign : ALL) {
            if (sign.isAbout(feature) && context.isOpen(sign.condition())) {
                return true;
            }
        }
        return false;
    }
}
