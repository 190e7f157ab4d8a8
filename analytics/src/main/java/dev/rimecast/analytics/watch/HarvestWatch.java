package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import java.util.List;

/** Whether the ice leaves the plate: by a freeze that starts on ice that was left, and by a harvest that stays cold. */
final class HarvestWatch {
    private static final Sign.Change SHORT_PULL_DOWN = new Sign.Change(Feature.PULL_DOWN, false, false);

    private LeftIce leftIce = new LeftIce();
    private ColdHarvest coldHarvest = new ColdHarvest();

    /** Takes a finished cycle, raises or clears {@link Condition#INCOMPLETE_HARVEST}. */
    void cycle(RawCycle raw, List<Residual> residuals, WatchedFeatures features, RuleContext context) {
        coldHarvest.cycle(raw);
        if (coldHarvest.isSure()) {
            if (!context.isOpen(Condition.INCOMPLETE_HARVEST)
                    && raw.harvestWarmestCelsius().isPresent()) {
                double warmest = raw.harvestWarmestCelsius().getAsDouble();
                context.report(
                        Condition.INCOMPLETE_HARVEST,
                        raw.endMillis(),
                        AtLimit.coldHarvest(warmest).causes(causesOfCold(raw.endMillis(), context)));
            }
            return;
        }
        residuals.stream()
                .filter(residual -> residual.feature() == Feature.PULL_DOWN)
                .forEach(pullDown -> pullDown(pullDown, raw, features, context));
    }

    private void pullDown(Residual pullDown, RawCycle raw, WatchedFeatures features, RuleContext context) {
        double share = context.policy(Condition.INCOMPLETE_HARVEST).get(PolicyNumber.SHORT_PULL_DOWN_SHARE);
        leftIce.cycle(pullDown.measured(), pullDown.expected(), share);
        boolean isOpen = context.isOpen(Condition.INCOMPLETE_HARVEST);
        if (leftIce.isSeen() && !isOpen) {
            context.report(Condition.INCOMPLETE_HARVEST, raw.endMillis(), iceIsLeft(pullDown, raw, features, context));
        } else if (!leftIce.isSeen() && isOpen) {
            context.clear(Condition.INCOMPLETE_HARVEST, raw.endMillis(), "The plate starts free of ice again.");
        }
    }

    /** Where the plate was seen to be warm in its harvest, the hot gas has come, and the cycles say why ice stays. */
    private static Assessment iceIsLeft(
            Residual pullDown, RawCycle raw, WatchedFeatures features, RuleContext context) {
        Assessment found = AtLimit.leftIce(pullDown);
        return raw.harvestWarmestCelsius().isPresent()
                ? found.causes(features.causes(SHORT_PULL_DOWN, true, context))
                : found;
    }

    /** Whether no hot gas seems to come: the last harvest, or one of the last few, stayed cold. */
    boolean isColdSuspected() {
        return coldHarvest.isSuspected();
    }

    /** What keeps the plate cold in its harvest. */
    static List<ProbableCause> causesOfCold(long millis, RuleContext context) {
        return ColdRoom.first(AtLimit.CAUSES_OF_COLD_HARVEST, millis, context);
    }

    /** Whether no hot gas comes. */
    boolean isCold() {
        return coldHarvest.isSure();
    }

    void save(StateWriter out) {
        leftIce.save(out);
        coldHarvest.save(out);
    }

    static HarvestWatch restore(StateReader in) {
        HarvestWatch watch = new HarvestWatch();
        watch.leftIce = LeftIce.restore(in);
        watch.coldHarvest = ColdHarvest.restore(in);
        return watch;
    }
}
