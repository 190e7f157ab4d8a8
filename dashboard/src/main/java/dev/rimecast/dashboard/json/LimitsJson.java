package dev.rimecast.dashboard.json;

import dev.rimecast.telemetry.machine.Machine;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;

/** Where the machine's own controller stops, and whether that was registered for it or is the usual value. */
public record LimitsJson(
        LimitJson condensingCelsius,
        LimitJson pullDownSeconds,
        @Nullable LimitJson drainLevelSeconds,
        double drainRunOnSeconds) {

    /** Usual values of the contract's register: 65 °C, 900 s, and 6 s where there is a drain pump. */
    private static final double USUAL_CONDENSING_CELSIUS = 65;

    private static final double USUAL_PULL_DOWN_SECONDS = 900;
    private static final double USUAL_DRAIN_LEVEL_SECONDS = 6;

    /**
     * One limit.
     *
     * @param registered false where the register is silent and the usual value stands in
     */
    public record LimitJson(double value, boolean registered) {
        private static LimitJson of(OptionalDouble registered, double usual) {
            return new LimitJson(registered.orElse(usual), registered.isPresent());
        }
    }

    static LimitsJson of(Machine machine) {
        Machine.Limits limits = machine.limits();
        boolean drainJudged = machine.drainKind() == Machine.DrainKind.PUMP
                || limits.drainLevelSeconds().isPresent();
        return new LimitsJson(
                LimitJson.of(limits.condensingCelsius(), USUAL_CONDENSING_CELSIUS),
                LimitJson.of(limits.pullDownSeconds(), USUAL_PULL_DOWN_SECONDS),
                drainJudged ? LimitJson.of(limits.drainLevelSeconds(), USUAL_DRAIN_LEVEL_SECONDS) : null,
                limits.drainRunOnSeconds().orElse(0));
    }
}
