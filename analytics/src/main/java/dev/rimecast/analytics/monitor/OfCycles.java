package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.telemetry.finding.Condition;
import java.util.EnumSet;
import java.util.Set;

/** What is decided from cycles alone, and which numbers of a policy act on nothing else. */
public final class OfCycles {
    private static final Set<Condition> CONDITIONS = EnumSet.of(
            Condition.SLOW_PULL_DOWN,
            Condition.RISING_CONDENSING_TEMPERATURE,
            Condition.DRAIN_PUMP_OVERRUN,
            Condition.LONG_FREEZE,
            Condition.SHORT_FREEZE,
            Condition.LONG_HARVEST,
            Condition.SLOW_FILL,
            Condition.WATER_USE_HIGH,
            Condition.LOW_OUTPUT,
            Condition.INCOMPLETE_HARVEST,
            Condition.BELOW_ITS_KIND);

    private static final Set<String> SECTIONS = Set.of("expectation", "change", "kind", "proof", "forecast");

    private OfCycles() {}

    /** Whether the condition comes of cycles; all others come of readings, silence and care. */
    public static boolean isOfCycles(Condition condition) {
        return CONDITIONS.contains(condition);
    }

    /** Whether what is said of the condition comes of cycles: a fill that does not end is seen before there is one. */
    static boolean isOfCycles(Condition condition, Assessment said) {
        return isOfCycles(condition) && !said.by().contains(PolicyNumber.FILL_MINUTES);
    }

    /**
     * Whether a number acts on nothing but what cycles have measured: then what another value would have raised can be decided from
     * cycles. What becomes a cycle ({@code expectation.rest_minutes}), limits, delays, sensors, missing ice, care and acceptance are judged by
     * readings.
     */
    public static boolean isOfCycles(Threshold threshold) {
        return !(threshold instanceof PolicyNumber number)
                || (SECTIONS.contains(number.section()) && number != PolicyNumber.REST_MINUTES);
    }
}
