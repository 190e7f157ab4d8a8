package dev.rimecast.analytics.policy;

import dev.rimecast.analytics.statistics.CusumDesign;
import dev.rimecast.analytics.statistics.EwmaDesign;
import dev.rimecast.telemetry.cycle.Feature;

/**
 * Limits of the cumulative sums and of the moving average, computed from the wanted number of false alarms.
 *
 * <p>The wanted rate is shared out over the features: half of it to single cycles (steps), half to block medians (slow
 * changes). Of the latter, the policy's share goes to the moving average, which has both its sides in one chart, the rest to
 * the two sides of the sum. Charts of the same values alarm together at times, so that the rate of all is at most the sum of
 * theirs (Boole's inequality). A machine-year has at most 365 × 24 / block hours
 * blocks, and at most 365 × {@value #CYCLES_PER_DAY} cycles (domain range of batch machines: 45 to 90 a day); with fewer,
 * false alarms are fewer.
 *
 * @param block limit of the sum of block medians, in standard deviations
 * @param average limit of the moving average of block medians, in standard deviations of such a median
 * @param step limit of the sum of single cycles, in standard deviations
 */
public record ChangeLimits(double block, double average, double step) {
    private static final int CYCLES_PER_DAY = 60;
    private static final int FEWEST_VALUES = 10;

    static ChangeLimits of(GroupPolicy policy) {
        double charts = Feature.values().length / (policy.get(PolicyNumber.FALSE_ALARMS_PER_YEAR) / 2);
        double blocks = charts * 365 * 24 / policy.get(PolicyNumber.BLOCK_HOURS);
        double cycles = charts * 365 * CYCLES_PER_DAY;
        double share = policy.get(PolicyNumber.EWMA_SHARE);
        double weight = policy.get(PolicyNumber.EWMA_WEIGHT);
        return new ChangeLimits(
                sum(policy.get(PolicyNumber.REFERENCE), 2 * blocks / (1 - share)),
                EwmaDesign.limitFor(weight, Math.max(FEWEST_VALUES, blocks / share)) * EwmaDesign.sigma(weight),
                sum(policy.get(PolicyNumber.STEP_REFERENCE), 2 * cycles));
    }

    private static double sum(double reference, double valuesBetweenFalseAlarms) {
        return CusumDesign.limitFor(reference, Math.max(FEWEST_VALUES, valuesBetweenFalseAlarms));
    }
}
