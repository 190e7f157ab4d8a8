package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.diagnosis.Course;
import dev.rimecast.analytics.diagnosis.Diagnosis;
import dev.rimecast.analytics.diagnosis.DrainSignals;
import dev.rimecast.analytics.diagnosis.Evidence;
import dev.rimecast.analytics.diagnosis.Observed;
import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.expect.OfKind;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Whether a machine was weaker than its kind from its first cycles on. Its own expectation can't show that, since it was
 * learned from those cycles; what does is that expectation beside the policy's of its model group, and beside what others of
 * the group on the site have shown.
 *
 * <p>Machines differ by {@code typical_spread} from the policy: a share of that, {@code kind.machine_share}, from one machine of a group to the
 * next, the rest from group to group, and that rest the others on the site tell. With n of them, whose median deviation is m, the group's
 * own deviation is normal around {@code m · n v_g / (n v_g + v_m)} with variance {@code v_g v_m / (n v_g + v_m)} (normal prior and normal
 * observations, e.g. Gelman et al. 2013, Bayesian Data Analysis, 2.5; v_g between groups, v_m between machines). The median, not the
 * mean: one of the others may be weak itself.
 */
final class BesideItsKind {
    /** Of two one can't tell which is the odd one. */
    private static final int LEAST_OTHERS = 2;

    private static final double LEAST_OF_MATERIAL = 2;
    private static final double OVER_AT = 0.7;
    /** What differs by less from machine to machine says nothing of a cause. */
    private static final double TELLS_AT = 1.5;

    private final Map<Feature, OfKind> own;
    private final List<Map<Feature, OfKind>> others;
    private final RuleContext context;
    private final GroupPolicy policy;

    /** @param others what is known of the others of the same model group on the site */
    BesideItsKind(Map<Feature, OfKind> own, List<Map<Feature, OfKind>> others, RuleContext context) {
        this.own = own;
        this.others = others;
        this.context = context;
        this.policy = context.policy(Condition.BELOW_ITS_KIND);
    }

    /**
     * A feature beside what its kind has.
     *
     * @param deviation from the kind, on the feature's scale
     * @param sigma standard deviation that a sound machine has there
     * @param kind what the kind has, on the scale
     * @param others how many others told it; 0 where only the policy did
     */
    private record Standing(double deviation, double sigma, double kind, int others) {}

    void judge(long millis) {
        Map<Feature, Standing> standings = new EnumMap<>(Feature.class);
        own.forEach((feature, ofKind) -> standings.put(feature, standing(feature, ofKind)));
        Optional<Sign.Change> worst = worst(standings, context.machine());
        boolean isOpen = context.isOpen(Condition.BELOW_ITS_KIND);
        double sigmas = worst.map(change -> sigmas(change, standings)).orElse(0.0);
        if (worst.isPresent() && sigmas >= policy.get(PolicyNumber.KIND_SIGMAS)) {
            context.report(Condition.BELOW_ITS_KIND, millis, assessment(worst.get(), standings));
        } else if (isOpen && !own.isEmpty() && sigmas < OVER_AT * policy.get(PolicyNumber.KIND_SIGMAS)) {
            context.clear(Condition.BELOW_ITS_KIND, millis, "It does what its kind does.");
        }
    }

    private Standing standing(Feature feature, OfKind ofKind) {
        double[] ofOthers = others.stream()
                .filter(other -> other.containsKey(feature))
                .mapToDouble(other -> other.get(feature).deviation())
                .sorted()
                .toArray();
        double share = policy.get(PolicyNumber.KIND_MACHINE_SHARE);
        double all = ofKind.spread() * ofKind.spread();
        double ofMachines = share * share * all;
        double ofGroups = all - ofMachines;
        int n = ofOthers.length < LEAST_OTHERS ? 0 : ofOthers.length;
        double weight = n * ofGroups / (n * ofGroups + ofMachines);
        double group = n == 0 ? 0 : weight * (ofOthers[(n - 1) / 2] + ofOthers[n / 2]) / 2;
        double unsure = ofMachines + (1 - weight) * ofGroups + ofKind.error() * ofKind.error();
        double deviation = ofKind.deviation() - group;
        return new Standing(deviation, StrictMath.sqrt(unsure), ofKind.level() - deviation, n);
    }

    private Optional<Sign.Change> worst(Map<Feature, Standing> standings, Machine machine) {
        Optional<Sign.Change> worst = Optional.empty();
        double most = 0;
        for (Sign sign : Sign.ALL) {
            for (Sign.Change change : sign.changes()) {
                if (change.countsFor(machine) && sigmas(change, standings) > most) {
                    most = sigmas(change, standings);
                    worst = Optional.of(change);
                }
            }
        }
        return worst;
    }

    /** How many standard deviations it is on the bad side; 0 where it is too little to be worth a visit. */
    private double sigmas(Sign.Change change, Map<Feature, Standing> standings) {
        Standing standing = standings.get(change.feature());
        if (standing == null || change.sign() * standing.deviation() < LEAST_OF_MATERIAL * material(change.feature())) {
            return 0;
        }
        return change.sign() * standing.deviation() / standing.sigma();
    }

    private double material(Feature feature) {
        return FeatureScale.step(feature, policy.get(feature, FeatureNumber.MATERIAL));
    }

    private Assessment assessment(Sign.Change change, Map<Feature, Standing> standings) {
        Feature feature = change.feature();
        Standing standing = Objects.requireNonNull(standings.get(feature));
        double value = FeatureScale.toUnit(feature, standing.kind() + standing.deviation());
        double kind = FeatureScale.toUnit(feature, standing.kind());
        String beside = standing.others() == 0
                ? "Held against what the policy has of its model group."
                : String.format(
                        Locale.ROOT, "Held against %d others of its model group on the site.", standing.others());
        String text = "Ever since its first cycles: " + Evidence.sentence(feature, standing.deviation()) + ' ' + beside;
        return Assessment.of(
                        Stage.EARLY,
                        Priority.LOW,
                        text,
                        List.<Threshold>of(
                                PolicyNumber.KIND_SIGMAS,
                                new Threshold.OfFeature(feature, FeatureNumber.TYPICAL),
                                new Threshold.OfFeature(feature, FeatureNumber.TYPICAL_SPREAD)))
                .causes(Diagnosis.of(observed(change, standings)))
                .measure(new Measure(
                        feature.code(), feature.unit(), value, OptionalDouble.of(kind), OptionalDouble.empty()));
    }

    private Observed observed(Sign.Change change, Map<Feature, Standing> standings) {
        Map<Feature, Observed.Level> levels = new EnumMap<>(Feature.class);
        standings.forEach((feature, standing) -> levels.put(
                feature,
                new Observed.Level(
                        standing.deviation(),
                        standing.sigma(),
                        StrictMath.max(material(feature), TELLS_AT * standing.sigma()),
                        FeatureScale.step(feature, policy.get(feature, FeatureNumber.MATRIX_ERROR)))));
        return new Observed(
                change.feature(),
                change.upward(),
                levels,
                Course.EITHER,
                false,
                false,
                DrainSignals.EITHER,
                OtherBuild.causes(context.machine()),
                context.machine().freezeEndsBy(),
                context.machine().fillEndsBy());
    }

    /** Of the same group, built the same way: what one of them does says what the other should. */
    static boolean areOfAKind(Machine one, Machine other) {
        return one.modelGroup().isPresent()
                && one.modelGroup().equals(other.modelGroup())
                && one.kind() == other.kind()
                && one.condenserCooling() == other.condenserCooling()
                && one.freezeEndsBy().equals(other.freezeEndsBy())
                && one.evaporatorProbeAt() == other.evaporatorProbeAt();
    }

    /** Features that have shown themselves. */
    static Map<Feature, OfKind> of(WatchedFeatures features, GroupPolicy policy) {
        Map<Feature, OfKind> known = new EnumMap<>(Feature.class);
        features.forEach((feature, one) -> one.ofKind(policy).ifPresent(ofKind -> known.put(feature, ofKind)));
        return known;
    }
}
