package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.care.CareSigns;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.telemetry.cycle.Feature;

/** What the cycles of about the last day say of a machine's care. What has a finding already is left to that. */
final class DayDrift implements CareSigns {
    private final WatchedFeatures features;
    private final RuleContext context;

    DayDrift(WatchedFeatures features, RuleContext context) {
        this.features = features;
        this.context = context;
    }

    /** Not judged yet: then its filter's interval is not stretched. */
    @Override
    public boolean isCondenserClean() {
        return false;
    }

    @Override
    public boolean isCondenserDrifting() {
        return !Sign.isOpenAbout(Feature.SPLIT, context) && share(Feature.SPLIT) >= enough();
    }

    @Override
    public boolean isPlateDrifting() {
        return !Sign.isOpenAbout(Feature.HARVEST, context)
                && !Sign.isOpenAbout(Feature.PULL_DOWN, context)
                && (share(Feature.HARVEST) >= enough() || share(Feature.PULL_DOWN) <= -enough());
    }

    private double enough() {
        return context.policy().get(PolicyNumber.DRIFT_SHARE);
    }

    /** The residual of about a day, as a share of what is worth a finding. */
    private double share(Feature feature) {
        return features.get(feature)
                .filter(Watched::hasLevel)
                .map(one -> one.track().dayLevel() / one.material(context.policy()))
                .orElse(0.0);
    }
}
