package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.diagnosis.Course;
import dev.rimecast.analytics.diagnosis.Diagnosis;
import dev.rimecast.analytics.diagnosis.Observed;
import dev.rimecast.analytics.diagnosis.Signatures;
import dev.rimecast.analytics.drift.Trend;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.proof.Complaint;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.machine.Machine;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiConsumer;
import java.util.function.BiPredicate;

/** Every feature of one machine that is watched, and what they say together. */
final class WatchedFeatures {
    private static final long NONE = Long.MIN_VALUE;
    /** From this layout of what a machine has learned on: its cleaning. */
    private static final int WITH_CLEANED = 15;
    /** From this one on: whether its cycles are read as equally long. */
    private static final int WITH_EVEN = 17;

    private static final long AFTER_WORK_MILLIS = 4 * 86_400_000L;
    /** Work that was written down some hours late still went before the change. */
    private static final long JUST_MILLIS = 6 * 3_600_000L;

    private static final long LATE_RECORD_MILLIS = 86_400_000L;
    /** A step has no trend after so many days. */
    private static final int STEP_DAYS = 6;
    /** What is worth a finding so soon after it began did not grow, unless the days before were on their way there. */
    private static final long AT_ONCE_MILLIS = 86_400_000L;

    /** A machine that does what it does is within so much of how machines of a group differ. */
    private static final double RELEARN_SHARE = 0.5;

    /** Of what is worth a finding: more than the probe wanders with the place. */
    private static final double WARM_END_SHARE = 2;

    private static final Set<Feature> OF_CLEANING =
            EnumSet.of(Feature.PULL_DOWN, Feature.FREEZE, Feature.HARVEST, Feature.SPLIT, Feature.EVAPORATOR_END);

    private final Map<Feature, Watched> watched = new EnumMap<>(Feature.class);
    private SignalScatter drainSignals = new SignalScatter();
    private EvenCycles evenCycles = new EvenCycles();
    private long workAt = NONE;
    private long visitAt = NONE;
    /** The last cleaning of which no change has been taken for its doing. */
    private long cleanedAt = NONE;

    /** A cycle's value with what the moments of reading do to it; {@link #seen} first. */
    Watched.Measured measured(Feature feature, double value, RawCycle raw) {
        return new Watched.Measured(value, CycleFeatures.ofReadings(feature, raw), evenCycles.isErrorTheSame(feature));
    }

    /** Takes a finished cycle. */
    void seen(RawCycle raw) {
        evenCycles.see(raw);
    }

    /** The feature; watched from now on if it was not. */
    Watched of(Feature feature, GroupPolicy policy) {
        return watched.computeIfAbsent(feature, f -> new Watched(f, policy));
    }

    Optional<Watched> get(Feature feature) {
        return Optional.ofNullable(watched.get(feature));
    }

    void forEach(BiConsumer<Feature, Watched> action) {
        watched.forEach(action);
    }

    /** The longest drain level signal of a cycle. */
    void drainSignal(double seconds, boolean isOpen) {
        drainSignals.cycle(seconds, isOpen);
    }

    void worked(long millis, boolean isOfEngineer) {
        workAt = millis;
        visitAt = isOfEngineer ? millis : visitAt;
    }

    /** It was cleaned, by what was written down or by what the machine says. */
    void cleaned(long millis) {
        cleanedAt = millis;
    }

    /** When somebody last worked on the machine, or {@link Long#MIN_VALUE}. */
    long workedAt() {
        return workAt;
    }

    boolean isWorkedOnSince(long since, long now) {
        return workAt != NONE && workAt >= since && workAt <= now;
    }

    /** When the last cycle was judged. */
    long lastMillis() {
        return watched.values().stream()
                .mapToLong(one -> one.track().lastMillis())
                .max()
                .orElse(NONE);
    }

    /**
     * The first of a sign's changes that has happened.
     *
     * @param cyclesSinceRest complete cycles before the last one since the machine rested
     */
    Optional<Sign.Change> firstAlarm(Sign sign, int cyclesSinceRest, Machine machine, GroupPolicy policy) {
        for (Sign.Change change : sign.changes()) {
            Watched one = watched.get(change.feature());
            if (one != null
                    && change.countsFor(machine)
                    && one.hasLevel()
                    && isChanged(one, change, machine, policy)
                    && !isStillWarm(one, change, cyclesSinceRest, policy)) {
                return Optional.of(change);
            }
        }
        return Optional.empty();
    }

    /**
     * After a rest or a hot start the sump and all around the plate are warm, and so is the end of the first freeze that is judged: a step
     * to the warm side waits for a second one that shows it. What has been so for days does not.
     */
    private static boolean isStillWarm(Watched one, Sign.Change change, int cyclesSinceRest, GroupPolicy policy) {
        return change.feature() == Feature.EVAPORATOR_END
                && change.upward()
                && cyclesSinceRest < policy.get(PolicyNumber.EXCLUDED_CYCLES)
                && one.share(true, policy) < 1;
    }

    private boolean isChanged(Watched one, Sign.Change change, Machine machine, GroupPolicy policy) {
        if (one.isAlarm(change.upward(), isJustAfterVisit(one, change.upward()), policy)) {
            return true;
        }
        if (one.share(change.upward(), policy) < policy.get(PolicyNumber.TOGETHER_SHARE)) {
            return false;
        }
        List<Map<Feature, Integer>> signatures = Signatures.of(machine.freezeEndsBy(), machine.fillEndsBy());
        return Together.size(change, watched, signatures, policy) >= 1;
    }

    /** Whether none of a sign's changes is left, by the last cycles. */
    boolean isOver(Sign sign, Machine machine, int cycles, GroupPolicy policy) {
        return sign.changes().stream()
                .filter(change -> change.countsFor(machine))
                .allMatch(change -> get(change.feature())
                        .filter(Watched::hasLevel)
                        .map(one -> one.isOver(change.upward(), cycles, policy))
                        .orElse(true));
    }

    /** Whether each of a sign's changes had come at once, and is over. */
    boolean isStepOver(Sign sign, Machine machine, long raisedAtMillis, GroupPolicy policy) {
        return sign.changes().stream()
                .filter(change -> change.countsFor(machine))
                .allMatch(change -> get(change.feature())
                        .filter(Watched::hasLevel)
                        .map(one -> one.isStepOver(change.upward(), raisedAtMillis, policy))
                        .orElse(false));
    }

    /** Whether an early finding is on its way out: its cause stays what it was. */
    boolean isGoing(Sign sign, Sign.Change change, RuleContext context) {
        GroupPolicy policy = context.policy(sign.condition());
        return context.isEarly(sign.condition())
                && get(change.feature()).orElseThrow().isGoing(change.upward(), policy);
    }

    /** Whether none of them is left, by the mean of about a day. */
    boolean isOverForADay(Sign sign, Machine machine, GroupPolicy policy) {
        return sign.changes().stream()
                .filter(change -> change.countsFor(machine))
                .allMatch(change -> get(change.feature())
                        .map(one -> one.isOverForADay(change.upward(), policy))
                        .orElse(true));
    }

    /**
     * What is probably wrong, given that this has changed.
     *
     * @param inWords with the evidence
     */
    List<ProbableCause> causes(Sign.Change change, boolean inWords, RuleContext context) {
        Watched about = get(change.feature()).orElseThrow();
        long began = began(about, change.upward(), context.policy());
        List<ProbableCause> causes = Diagnosis.of(observed(change, context), inWords);
        return isWarmEnd(context.policy()) ? causes : ColdRoom.first(causes, began, context);
    }

    /** Cold starves the evaporator, which makes it colder: a freeze that ends kelvins too warm is no doing of the room. */
    private boolean isWarmEnd(GroupPolicy policy) {
        return get(Feature.EVAPORATOR_END)
                .filter(Watched::hasLevel)
                .filter(end -> end.level(policy) >= WARM_END_SHARE * end.material(policy))
                .isPresent();
    }

    /**
     * Whether a change is what a cleaning leaves behind that took away more scale than the machine was ever known without: it has come at once
     * with it, every feature as scale has it the other way, and by no more than what builds up between two cleanings. Then it is learned anew, once.
     */
    boolean isCleanedOff(Sign.Change change, RuleContext context) {
        Observed observed = observed(change, context);
        long began = began(get(change.feature()).orElseThrow(), change.upward(), context.policy());
        return isAfter(cleanedAt, began)
                && observed.course() != Course.DRIFT
                && Diagnosis.isTakenAway(Cause.SCALE, observed);
    }

    private Observed observed(Sign.Change change, RuleContext context) {
        Watched about = get(change.feature()).orElseThrow();
        GroupPolicy policy = context.policy();
        int window = about.window(change.upward(), policy);
        long began = began(about, change.upward(), policy);
        Map<Feature, Observed.Level> levels = new EnumMap<>(Feature.class);
        watched.forEach((feature, one) -> {
            if (one.hasLevel()) {
                levels.put(feature, one.observed(window, policy));
            }
        });
        return new Observed(
                change.feature(),
                change.upward(),
                levels,
                course(about, change.upward(), policy),
                isAfter(workAt, began),
                isAfter(visitAt, began),
                drainSignals.signals(),
                OtherBuild.causes(context.machine()),
                context.machine().freezeEndsBy(),
                context.machine().fillEndsBy());
    }

    private static Course course(Watched about, boolean upward, GroupPolicy policy) {
        if (!about.track().isAlarm(upward, policy)) {
            return about.isGreat(upward, policy) ? Course.STEP : Course.EITHER;
        }
        if (isAtOnce(about, began(about, upward, policy), policy)) {
            return Course.STEP;
        }
        Trend trend = about.plainTrend(upward, policy);
        if (trend.isDrift(policy.get(PolicyNumber.TREND_PROBABILITY))) {
            return Course.DRIFT;
        }
        boolean isQuick = about.track().isStepAlarm(upward, policy) && trend.days() <= 2;
        return isQuick || trend.days() >= STEP_DAYS ? Course.STEP : Course.EITHER;
    }

    /**
     * A step on top of what has crept up for weeks: the slow sum has begun long before, but what there is to explain came with
     * the step.
     */
    private static long began(Watched about, boolean upward, GroupPolicy policy) {
        long ofStep = about.track().stepSinceMillis(upward);
        boolean isGreat = about.track().isStepAlarm(upward, policy) || about.isGreat(upward, policy);
        boolean isStep = isGreat && isAtOnce(about, ofStep, policy);
        return isStep ? ofStep : about.track().changeBeganMillis(upward, policy);
    }

    /** A sum that was begun anew says of a slow change, too, that it began just now. */
    private static boolean isAtOnce(Watched about, long began, GroupPolicy policy) {
        if (about.track().lastMillis() - began > AT_ONCE_MILLIS) {
            return false;
        }
        double before = about.track().levelBefore(began, Watched.DAYS_BEFORE).orElse(0);
        return before / about.level(policy) < Watched.ON_ITS_WAY_SHARE;
    }

    /** What came with an engineer's work an hour ago is no open lid. */
    private boolean isJustAfterVisit(Watched one, boolean upward) {
        long began = one.track().stepSinceMillis(upward);
        return visitAt != NONE && began >= visitAt - JUST_MILLIS && began - visitAt <= JUST_MILLIS;
    }

    private static boolean isAfter(long work, long began) {
        return work != NONE && began >= work - LATE_RECORD_MILLIS && began - work <= AFTER_WORK_MILLIS;
    }

    /** The change that is furthest from what should be, if it is at least {@code least} times what is worth a finding. */
    Optional<Sign.Change> worst(double least, RuleContext context) {
        Optional<Sign.Change> worst = Optional.empty();
        double most = least;
        for (Sign sign : Sign.ALL) {
            for (Sign.Change change : sign.changes()) {
                Optional<Watched> one = get(change.feature()).filter(Watched::hasLevel);
                if (one.isPresent() && change.countsFor(context.machine())) {
                    double size = change.sign() * one.get().level() / one.get().material(context.policy());
                    if (size > most) {
                        most = size;
                        worst = Optional.of(change);
                    }
                }
            }
        }
        return worst;
    }

    /** Learns anew what a cleaning changes, but for what a finding is open about. */
    void relearnAfterCleaning(RuleContext context) {
        cleanedAt = NONE;
        for (Feature feature : OF_CLEANING) {
            if (!Sign.isOpenAbout(feature, context)) {
                get(feature)
                        .ifPresent(one -> one.rebase(
                                RELEARN_SHARE * context.policy().get(feature, FeatureNumber.TYPICAL_SPREAD),
                                context.policy()));
            }
        }
    }

    /** Learns anew what a sign is about. */
    void relearn(Sign sign, GroupPolicy policy) {
        for (Sign.Change change : sign.changes()) {
            get(change.feature())
                    .ifPresent(one -> one.rebase(
                            RELEARN_SHARE * policy.get(change.feature(), FeatureNumber.TYPICAL_SPREAD), policy));
        }
    }

    /** What a condition complains of; empty for one that is not about a feature of a cycle. */
    Optional<Complaint> complaint(Condition condition, Machine machine) {
        return Sign.ALL.stream()
                .filter(sign -> sign.condition() == condition)
                .flatMap(sign -> sign.changes().stream())
                .filter(change -> change.countsFor(machine))
                .map(change -> new Complaint(change.feature(), change.upward(), levelOf(change)))
                .max(Comparator.comparingDouble(Complaint::level));
    }

    private double levelOf(Sign.Change change) {
        return get(change.feature())
                .filter(Watched::hasLevel)
                .map(one -> StrictMath.max(0, change.sign() * one.level()))
                .orElse(0.0);
    }

    /** @param waits whether a feature that the work touches is not to be learned anew yet */
    void rebase(Work work, BiPredicate<Feature, Double> waits, GroupPolicy policy) {
        watched.forEach((feature, one) -> {
            double spread = work.spread() * policy.get(feature, FeatureNumber.TYPICAL_SPREAD);
            if (work.features().contains(feature) && !waits.test(feature, spread)) {
                one.rebase(spread, policy);
            } else {
                one.mark();
            }
        });
    }

    void save(StateWriter out) {
        out.u8((int) watched.values().stream().filter(w -> !w.isEmpty()).count());
        watched.forEach((feature, one) -> {
            if (!one.isEmpty()) {
                out.u8(feature.ordinal());
                one.save(out);
            }
        });
        drainSignals.save(out);
        out.time(workAt).time(visitAt).time(cleanedAt);
        evenCycles.save(out);
    }

    static WatchedFeatures restore(StateReader in, GroupPolicy policy) {
        WatchedFeatures features = new WatchedFeatures();
        for (int count = in.u8(); count > 0; count--) {
            Feature feature = Feature.values()[in.u8()];
            features.watched.put(feature, Watched.restore(feature, in, policy));
        }
        features.drainSignals = SignalScatter.restore(in);
        features.workAt = in.time();
        features.visitAt = in.time();
        features.cleanedAt = in.hasLayout(WITH_CLEANED) ? in.time() : NONE;
        features.evenCycles = in.hasLayout(WITH_EVEN) ? EvenCycles.restore(in) : new EvenCycles();
        return features;
    }
}
