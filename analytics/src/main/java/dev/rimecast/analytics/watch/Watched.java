package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.diagnosis.Observed;
import dev.rimecast.analytics.drift.ResidualTrack;
import dev.rimecast.analytics.drift.Trend;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.Expected;
import dev.rimecast.analytics.expect.FeatureModel;
import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.expect.OfKind;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.proof.Standing;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import java.util.Map;
import java.util.Optional;

/** One feature of one machine: what it should be, and how what it is has gone. */
final class Watched {
    /** Below this share of the change that is worth a finding, a suspicion does not stop learning. */
    private static final double HARMLESS_SHARE = 0.3;

    /** However calm a machine is, the end of its freeze wanders by so much with its probe [common practice]. */
    private static final double PLATE_WANDERS_KELVIN = 0.9;

    /** Deviations that two turns can be wrong by at most, each by half of what lies between two readings: a triangle's end. */
    private static final double MOST_OF_TWO_TURNS = StrictMath.sqrt(6);
    /** The same of one turn: a rectangle's. */
    private static final double MOST_OF_ONE_TURN = StrictMath.sqrt(3);

    static final int LEVEL_CYCLES = 6;
    private static final int STEP_CYCLES = 3;
    private static final double STEP_SHARE = 1.5;
    /**
     * A lid stands open over lunch, or a box in front of a condenser for an afternoon, and the pressure of the mains sags while
     * everybody draws from it. What such things do has to be so many times what is worth a finding to be a step at once, or to last for longer than that [common practice].
     */
    private static final Map<Feature, Double> NO_AFTERNOON_SHARE =
            Map.of(Feature.SPLIT, 4.5, Feature.FREEZE, 4.0, Feature.PULL_DOWN, 4.0, Feature.FILL, 4.0);

    /**
     * What is so many times what is worth a finding in two cycles in a row needs no third: a probe that has come off its plate, a fan
     * that stands, a plate without water make long cycles, and half of what they leave of a day is lost while a third is waited
     * for. Heat has to be beyond what a lid or a box does at once [common practice]. Lengths that get shorter are left out, since ice that has stayed on a
     * plate makes two freezes short, and what is metered, since it is a mean over cycles.
     */
    private static final Map<Feature, Double> GREAT_UP = Map.of(
            Feature.SPLIT,
            5.5,
            Feature.FREEZE,
            5.0,
            Feature.PULL_DOWN,
            5.0,
            Feature.HARVEST,
            4.0,
            Feature.DRAIN_LEVEL,
            4.0);

    private static final Map<Feature, Double> GREAT_DOWN = Map.of(Feature.EVAPORATOR_END, 3.5);
    static final int GREAT_CYCLES = 2;
    private static final double GREAT_SIGMAS = 5;
    /**
     * Share of {@code beyond_unsure} for freezes that get longer: what a season does to them is known best. On seven fleets of three simulators
     * by other hands nothing more was said wrongly by it, and drifts without sensors of air and water were found days earlier.
     */
    private static final double UNSURE_OF_LONGER_FREEZE = 2.0 / 3;

    private static final long LONGER_THAN_AN_AFTERNOON_MILLIS = 5 * 3_600_000L;
    /** The matrix of causes may be half as wrong of small changes, on machines that show so small ones. */
    private static final double LEAST_MATRIX_ERROR_SHARE = 0.5;
    /** From this layout of a machine's state on it has how large a change was when it was reported. */
    private static final int WITH_RAISED_SHARE = 11;

    /** What is worth a finding did not come at once where the days before were on their way there. */
    static final int DAYS_BEFORE = 3;

    static final double ON_ITS_WAY_SHARE = 0.4;

    private static final int PERCENT = 100;

    private final Feature feature;
    private FeatureModel model;
    private ResidualTrack track;
    private int sinceMark;
    /** How much of what is worth a finding it was when it was reported, 1 at most. */
    private int raisedPercent = PERCENT;

    Watched(Feature feature, GroupPolicy policy) {
        this.feature = feature;
        this.model = FeatureModel.prior(feature, policy);
        this.track = new ResidualTrack(policy);
    }

    /**
     * A cycle's value.
     *
     * @param value in the feature's unit
     * @param ofReadings standard deviation of it that comes of when readings were taken, in the same unit
     * @param isOfReadingsTheSame whether that error is the same for cycle after cycle
     */
    record Measured(double value, double ofReadings, boolean isOfReadingsTheSame) {}

    /** Takes a value that the machine measured itself, in the feature's unit; returns it against the expectation once there is one. */
    Optional<Residual> take(double measured, Conditions conditions, long millis, boolean isOpen, GroupPolicy policy) {
        return take(new Measured(measured, 0, false), conditions, millis, isOpen, policy);
    }

    /** Takes a cycle's value; returns it against the expectation once there is one. */
    Optional<Residual> take(Measured cycle, Conditions conditions, long millis, boolean isOpen, GroupPolicy policy) {
        double measured = cycle.value();
        double value = FeatureScale.toScale(feature, measured);
        double ofReadings = FeatureScale.isRatio(feature) ? cycle.ofReadings() / measured : cycle.ofReadings();
        Expected expected = model.expect(feature, conditions, cycle.isOfReadingsTheSame() ? 0 : ofReadings, policy);
        boolean isUsable = isUsable(policy);
        boolean mayLearn = !isOpen && !(isUsable && isSuspect(policy));
        if (isUsable) {
            double residual = value - expected.mean();
            if (cycle.isOfReadingsTheSame()) {
                // No noise, since it does not come and go: all that it can be is left out.
                double most =
                        feature == Feature.FREEZE || feature == Feature.HARVEST ? MOST_OF_TWO_TURNS : MOST_OF_ONE_TURN;
                double rest = StrictMath.abs(residual) - most * ofReadings;
                residual = StrictMath.copySign(StrictMath.max(0, rest), residual);
            }
            track.add(residual, expected, conditions.isMeasured(), millis, policy);
            sinceMark++;
        }
        if (mayLearn) {
            model.learn(feature, value, conditions, standing(), policy);
        }
        return isUsable ? Optional.of(inUnits(measured, expected)) : Optional.empty();
    }

    /** What all of its last cycles have in common, on the scale; 0 where there are too few to say. */
    private double standing() {
        return track.recentCount() < ResidualTrack.RECENT ? 0 : track.recent(ResidualTrack.RECENT);
    }

    private Residual inUnits(double measured, Expected expected) {
        double mean = FeatureScale.toUnit(feature, expected.mean());
        double sigma = FeatureScale.isRatio(feature) ? mean * expected.sigma() : expected.sigma();
        return new Residual(feature, measured, mean, sigma);
    }

    /** Cycles that the expectation was learned from. */
    int cycles() {
        return model.cycles();
    }

    boolean isUsable(GroupPolicy policy) {
        return cycles() >= policy.get(PolicyNumber.USABLE_CYCLES);
    }

    private boolean isSuspect(GroupPolicy policy) {
        return track.isSuspect(policy)
                && StrictMath.abs(track.recent(LEVEL_CYCLES)) >= HARMLESS_SHARE * material(policy);
    }

    Expected expect(Conditions conditions, GroupPolicy policy) {
        return model.expect(feature, conditions, policy);
    }

    /**
     * The least change worth a finding, on the scale: less where the machine has shown that it hardly wanders by itself, more where
     * the place is not known well enough to see so little.
     */
    double material(GroupPolicy policy) {
        return material(1, policy);
    }

    /** The same in a direction: of a freeze that gets longer less is unsure. */
    private double worth(boolean upward, GroupPolicy policy) {
        return material(upward && feature == Feature.FREEZE ? UNSURE_OF_LONGER_FREEZE : 1, policy);
    }

    private double material(double ofUnsure, GroupPolicy policy) {
        double whole = wholeMaterial(policy);
        double own = policy.get(PolicyNumber.OWN_SCATTER) * track.ownScatter();
        double least = policy.get(PolicyNumber.LEAST_MATERIAL_SHARE) * whole;
        if (feature == Feature.EVAPORATOR_END) {
            least = StrictMath.max(least, PLATE_WANDERS_KELVIN);
        } else if (feature == Feature.FILL) {
            least = whole;
        }
        return StrictMath.max(
                StrictMath.max(least, StrictMath.min(whole, own)),
                policy.get(PolicyNumber.BEYOND_UNSURE) * ofUnsure * track.provenUnsure());
    }

    private double wholeMaterial(GroupPolicy policy) {
        return FeatureScale.step(feature, policy.get(feature, FeatureNumber.MATERIAL));
    }

    /**
     * How much of a change that is worth a finding its last cycles and its last day both show, where a chart of slow changes is at
     * its limit; 0 where none is.
     */
    double share(boolean upward, GroupPolicy policy) {
        if (!hasLevel() || !track.isSlowAlarm(upward, policy)) {
            return 0;
        }
        double sign = upward ? 1 : -1;
        double level = StrictMath.min(sign * track.recent(LEVEL_CYCLES), sign * track.dayLevel());
        return StrictMath.max(0, level / worth(upward, policy));
    }

    /**
     * Whether it has changed in this direction, by as much as is worth a finding.
     *
     * @param isByWork whether a step has come with work on the machine, and so not with the weather or the kitchen
     */
    boolean isAlarm(boolean upward, boolean isByWork, GroupPolicy policy) {
        double sign = upward ? 1 : -1;
        double worth = worth(upward, policy);
        // A door that is open for half a day, or a cold morning, is no change: what has changed has done so for a day.
        boolean isSlow = track.isSlowAlarm(upward, policy)
                && sign * track.recent(LEVEL_CYCLES) >= worth
                && sign * track.dayLevel() >= worth;
        boolean isStep = track.isStepAlarm(upward, policy)
                && sign * track.recent(STEP_CYCLES) >= STEP_SHARE * worth
                && (isByWork || isNoAfternoon(upward, sign * track.recent(STEP_CYCLES), policy));
        return isSlow || isStep || isGreat(upward, policy);
    }

    /** Whether the last two cycles are so far from what they should be that they need no third. */
    boolean isGreat(boolean upward, GroupPolicy policy) {
        double share = (upward ? GREAT_UP : GREAT_DOWN).getOrDefault(feature, Double.POSITIVE_INFINITY);
        return track.bothOfLast(upward) >= StrictMath.max(share * wholeMaterial(policy), GREAT_SIGMAS * track.sigma());
    }

    private boolean isNoAfternoon(boolean upward, double step, GroupPolicy policy) {
        return !upward
                || step >= NO_AFTERNOON_SHARE.getOrDefault(feature, 0.0) * wholeMaterial(policy)
                || track.lastMillis() - track.stepSinceMillis(true) >= LONGER_THAN_AN_AFTERNOON_MILLIS;
    }

    /** Whether the last cycles since {@link #mark} say that the change is over. */
    boolean isOver(boolean upward, int cycles, GroupPolicy policy) {
        double sign = upward ? 1 : -1;
        return sinceMark >= cycles
                && sign * track.recent(cycles) < policy.get(PolicyNumber.CLEAR_SHARE) * raised(policy);
    }

    /**
     * Whether what was reported had come at once, and no third of the last {@value ResidualTrack#RECENT} cycles shows it any more: a box before a grille was taken
     * away, a lid was shut. What has crept up goes to and fro on its way, and is not over so soon.
     */
    boolean isStepOver(boolean upward, long raisedAtMillis, GroupPolicy policy) {
        double before = (upward ? 1 : -1)
                * track.levelBefore(raisedAtMillis, DAYS_BEFORE).orElse(0);
        return sinceMark >= ResidualTrack.RECENT
                && track.mostOfThirds(upward) < raised(policy)
                && before < ON_ITS_WAY_SHARE * raised(policy)
                && raisedAtMillis - track.slowSinceMillis(upward) <= ResidualTrack.DAY_MILLIS;
    }

    /** Whether the last cycle was as it should be: then what is left of a change in those before it says nothing new. */
    boolean isGoing(boolean upward, GroupPolicy policy) {
        return (upward ? 1 : -1) * newest() < policy.get(PolicyNumber.CLEAR_SHARE) * raised(policy);
    }

    boolean isOverForADay(boolean upward, GroupPolicy policy) {
        return (upward ? 1 : -1) * track.dayLevel() < raised(policy);
    }

    /** What it was reported at, the change that is worth a finding at most, on the scale. */
    private double raised(GroupPolicy policy) {
        return material(policy) * raisedPercent / PERCENT;
    }

    /** A finding about it was raised. */
    void raise(GroupPolicy policy) {
        mark();
        double share = hasLevel() ? StrictMath.abs(level(policy)) / material(policy) : 1;
        double least = policy.get(PolicyNumber.TOGETHER_SHARE);
        raisedPercent = (int) StrictMath.ceil(PERCENT * StrictMath.max(least, StrictMath.min(1, share)));
    }

    /** From here on cycles count towards the end of a change. */
    void mark() {
        sinceMark = 0;
    }

    /** The residual of the last cycle, on the scale. */
    double newest() {
        return track.recent(1);
    }

    /** Where it stands now: the median residual of the last cycles, on the scale. */
    double level() {
        return track.recent(LEVEL_CYCLES);
    }

    /** The same, by the cycles since a step alone where there was one. */
    double level(GroupPolicy policy) {
        return track.recent(Math.min(LEVEL_CYCLES, Math.min(window(true, policy), window(false, policy))));
    }

    /** Over how many cycles to look at once: as many as have passed since a step, else as many as there are. */
    int window(boolean upward, GroupPolicy policy) {
        if (!track.isStepAlarm(upward, policy)) {
            return isGreat(upward, policy) ? GREAT_CYCLES : ResidualTrack.RECENT;
        }
        return (int) Math.max(STEP_CYCLES, Math.min(ResidualTrack.RECENT, track.cyclesSinceStep(upward)));
    }

    /** What a diagnosis has to know, from so many cycles. */
    Observed.Level observed(int cycles, GroupPolicy policy) {
        double share =
                StrictMath.max(LEAST_MATRIX_ERROR_SHARE, StrictMath.min(1, material(policy) / wholeMaterial(policy)));
        double matrixError = share * FeatureScale.step(feature, policy.get(feature, FeatureNumber.MATRIX_ERROR));
        return new Observed.Level(track.recent(cycles), track.error(cycles), material(policy), matrixError);
    }

    /** The daily values as they are since the change began. */
    Trend plainTrend(boolean upward, GroupPolicy policy) {
        long began = track.changeBeganMillis(upward, policy);
        return track.trend(began - ResidualTrack.DAY_MILLIS, Forecast.CONFIDENCE, residual -> residual);
    }

    boolean hasLevel() {
        return track.recentCount() >= STEP_CYCLES;
    }

    ResidualTrack track() {
        return track;
    }

    /** How it stands for a proof; empty before the first cycle that could be judged. */
    Optional<Standing> standing(long sinceMillis, GroupPolicy policy) {
        if (!isUsable(policy) || track.recentCount() == 0) {
            return Optional.empty();
        }
        return Optional.of(new Standing(
                track.noise(),
                track.unsure() * track.unsure(),
                material(policy),
                track.recent(ResidualTrack.RECENT),
                track.recentCount(),
                track.lastMillis(),
                () -> track.trend(sinceMillis, Forecast.CONFIDENCE, residual -> residual)));
    }

    /** The change is over. */
    void reset() {
        track.reset();
    }

    /** Work has changed what is normal: by about {@code spread} on the scale. */
    void rebase(double spread, GroupPolicy policy) {
        model.rebase(spread);
        track = new ResidualTrack(policy);
        sinceMark = 0;
    }

    /** How it is beside its kind, with what the place may be wrong by; empty until it has shown itself. */
    Optional<OfKind> ofKind(GroupPolicy policy) {
        if (cycles() < policy.get(PolicyNumber.KIND_CYCLES)) {
            return Optional.empty();
        }
        OfKind own = model.ofKind(feature, policy);
        double error = StrictMath.hypot(own.error(), track.unsure());
        return Optional.of(new OfKind(own.level(), own.deviation(), error, own.spread()));
    }

    boolean isEmpty() {
        return model.cycles() == 0;
    }

    void save(StateWriter out) {
        model.save(out);
        track.save(out);
        out.whole(sinceMark).u8(raisedPercent);
    }

    static Watched restore(Feature feature, StateReader in, GroupPolicy policy) {
        Watched watched = new Watched(feature, policy);
        watched.model = FeatureModel.restore(in);
        watched.track = ResidualTrack.restore(in, policy);
        watched.sinceMark = in.wholeInt();
        watched.raisedPercent = in.hasLayout(WITH_RAISED_SHARE) ? in.u8() : PERCENT;
        return watched;
    }
}
