package dev.rimecast.analytics.policy;

import dev.rimecast.analytics.statistics.CusumDesign;
import dev.rimecast.telemetry.cycle.Feature;

/**
 * Limits of the cumulative sums, computed from the wanted number of false alarms.
 *
 * <p>The wanted rate is shared out: half to the sums of block medians (slow changes), half to the sums of single cycles
 * (steps), each over {@value #SIDES} sides, two for every feature. A machine-year has at most 365 × 24 / block hours
 * blocks, and at most 365 × {@value #CYCLES_PER_DAY} cycles (domain range of batch machines: 45 to 90 a day); with fewer,
 * false alarms are fewer.
 *
 * @param block limit for block medians, in standard deviations
 * @param step limit for single cycles, in standard deviations
 */
public record ChangeLimits(double block, double step) {
    private static final int CYCLES_PER_DAY = 60;
    private static final int SIDES = 20;

    public ChangeLimits {
        if (SIDES != 2 * Feature.values().length) {
            throw new IllegalStateException("the false-alarm rate is shared out for " + SIDES + " sides");
        }
    }

    static ChangeLimits of(GroupPolicy policy) {
        double yearsPerSide = 2.0 * SIDES / policy.get(PolicyNumber.FALSE_ALARMS_PER_YEAR);
        double blocksPerYear = 365 * 24 / policy.get(PolicyNumber.BLOCK_HOURS);
        double cyclesPerYear = 365.0 * CYCLES_PER_DAY;
        return new ChangeLimits(
                CusumDesign.limitFor(policy.get(PolicyNumber.REFERENCE), Math.max(10, yearsPerSide * blocksPerYear)),
                CusumDesign.limitFor(
                        policy.get(PolicyNumber.STEP_REFERENCE), Math.max(10, yearsPerSide * cyclesPerYear)));
    }
}
