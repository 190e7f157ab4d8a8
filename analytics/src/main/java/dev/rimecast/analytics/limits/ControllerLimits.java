package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.telemetry.machine.Machine;

/** Where the machine's own controller stops: by its register row, else by the policy. */
public record ControllerLimits(
        double condensingCelsius, double pullDownSeconds, double drainLevelSeconds, double drainRunOnSeconds) {

    public static ControllerLimits of(Machine machine, GroupPolicy policy) {
        Machine.Limits row = machine.limits();
        return new ControllerLimits(
                row.condensingCelsius().orElse(policy.get(PolicyNumber.CONDENSING_LIMIT_CELSIUS)),
                row.pullDownSeconds().orElse(policy.get(PolicyNumber.PULL_DOWN_LIMIT_SECONDS)),
                row.drainLevelSeconds().orElse(policy.get(PolicyNumber.DRAIN_LEVEL_LIMIT_SECONDS)),
                row.drainRunOnSeconds().orElse(policy.get(PolicyNumber.DRAIN_RUN_ON_SECONDS)));
    }

    /** The longest drain-pump run that leaves an empty tank: against a full one the pump goes on beyond it, or is stopped there. */
    public double drainRunSeconds() {
        return drainLevelSeconds + drainRunOnSeconds;
    }
}
