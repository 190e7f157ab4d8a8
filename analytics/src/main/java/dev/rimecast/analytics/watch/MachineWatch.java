package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.care.CareSigns;
import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.OfKind;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.proof.Complaint;
import dev.rimecast.analytics.proof.Expectations;
import dev.rimecast.analytics.proof.Standing;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.BiPredicate;

/** Judges one machine's cycles: learns what it should do, and says when it no longer does. */
public final class MachineWatch {
    private static final double HOUR_MILLIS = 3_600_000;
    private static final double PEAK_GAIN = 0.05;
    private static final double LEAST_OF_MATERIAL = 0.8;

    private WatchedFeatures features = new WatchedFeatures();
    private CycleLimits limits = new CycleLimits();
    private HarvestWatch harvests = new HarvestWatch();
    private WarmInlet warmInlet = new WarmInlet();
    private RoomByCondenser roomByCondenser = new RoomByCondenser();
    private PlaceDays days = new PlaceDays();
    private PutRight putRight = new PutRight();
    /** How far the condensing temperature peaks above what it is at the end of a freeze, K. */
    private double peakKelvin;
    /** Whether anything of it has changed since it was last saved. */
    private boolean changed = true;

    /** Takes a finished cycle, with the place by its sensors or by the last rest. */
    public JudgedCycle cycle(RawCycle raw, Conditions measured, RuleContext context) {
        changed = true;
        long millis = raw.endMillis();
        RoomByCondenser.Room room = roomByCondenser.during(
                raw, measured, features.get(Feature.SPLIT), features.workedAt(), context.policy());
        Conditions place = room.place();
        days.see(place.ambientCelsius(), place.waterCelsius(), millis);
        seePeak(raw);
        List<Residual> residuals = new ArrayList<>();
        features.seen(raw);
        Map<Feature, Double> values = CycleFeatures.of(raw, room.ofSplit(), context);
        values.forEach((feature, value) -> features.of(feature, context.policy())
                .take(
                        features.measured(feature, value, raw),
                        feature == Feature.SPLIT ? room.ofSplit().orElse(place) : place,
                        millis,
                        Sign.isOpenAbout(feature, context),
                        context.policy())
                .ifPresent(residuals::add));
        raw.drainLevelMaxSeconds()
                .ifPresent(longest -> features.drainSignal(longest, context.isOpen(Condition.DRAIN_PUMP_OVERRUN)));
        limits.cycle(raw, context);
        harvests.cycle(raw, residuals, features, context);
        warmInlet(raw, residuals, context);
        putRight.cycle(
                raw.freezeStartMillis(),
                raw.complete(),
                residuals,
                change -> features.of(change.feature(), context.policy()).material(context.policy()));
        for (Sign sign : Sign.ALL) {
            evaluate(sign, place, millis, raw.cyclesSinceRest(), context);
        }
        return new JudgedCycle(raw, place, room.ofSplit(), values, residuals);
    }

    private void seePeak(RawCycle raw) {
        double end = raw.condensingEndCelsius().orElse(Double.NaN);
        double peak = raw.condensingPeakCelsius().orElse(Double.NaN) - end;
        if (!Double.isNaN(peak)) {
            peakKelvin += (peak - peakKelvin) * (peakKelvin == 0 ? 1 : PEAK_GAIN);
        }
    }

    private void evaluate(Sign sign, Conditions conditions, long millis, int cyclesSinceRest, RuleContext context) {
        GroupPolicy policy = context.policy(sign.condition());
        Optional<Sign.Change> changed = features.firstAlarm(sign, cyclesSinceRest, context.machine(), policy);
        boolean isOpen = context.isOpen(sign.condition());
        if (isOpen && isPutRight(sign, policy, context)) {
            over(sign, millis, Ending.putRight(putRight.atMillis(), PutRight.CYCLES), context);
        } else if (limits.isReached(sign)) {
            context.report(sign.condition(), millis, atLimit(sign, context));
        } else if (changed.isPresent() && !isOpen && features.isCleanedOff(changed.get(), context)) {
            features.relearnAfterCleaning(context);
        } else if (changed.isPresent() && !features.isGoing(sign, changed.get(), context)) {
            early(sign, changed.get(), conditions, millis, context);
        } else if (isOpen && isOver(sign, millis, policy, context)) {
            over(sign, millis, Ending.of(sign.changes().get(0).feature()), context);
        }
        markIfRaised(sign, isOpen, context);
    }

    private void over(Sign sign, long millis, String why, RuleContext context) {
        context.clear(sign.condition(), millis, why);
        sign.changes().forEach(change -> features.get(change.feature()).ifPresent(Watched::reset));
        putRight.over(sign);
        if (sign == Sign.DRAIN_OVERRUN) {
            limits.forgetDrain();
        }
    }

    /** A pull-down has its own count of good cycles after it was beyond its limit; own warm air is seen in the room. */
    private boolean isPutRight(Sign sign, GroupPolicy policy, RuleContext context) {
        return putRight.isProved(sign)
                && features.isOver(sign, context.machine(), PutRight.CYCLES, policy)
                && !(sign == Sign.SLOW_PULL_DOWN && limits.isPullDownBeyond())
                && !(sign == Sign.RISING_CONDENSING && warmInlet.isWarm());
    }

    /** The site says that it has put something right: the next cycles show whether that was it. */
    public void putRight(long millis, RuleContext context) {
        changed = true;
        List<Sign> open = Sign.ALL.stream()
                .filter(sign -> context.isOpen(sign.condition()))
                .toList();
        putRight.said(millis, open);
        features.forEach((feature, one) -> one.mark());
    }

    private void markIfRaised(Sign sign, boolean wasOpen, RuleContext context) {
        if (!wasOpen && context.isOpen(sign.condition())) {
            sign.changes()
                    .forEach(change -> features.get(change.feature()).ifPresent(one -> one.raise(context.policy())));
        }
    }

    private boolean isOver(Sign sign, long millis, GroupPolicy policy, RuleContext context) {
        if (sign == Sign.RISING_CONDENSING && warmInlet.isWarm()) {
            return false;
        }
        long raisedAt = context.open(sign.condition()).orElseThrow().raisedAt().toEpochMilli();
        if (features.isWorkedOnSince(raisedAt, millis)) {
            int cycles = (int) policy.get(PolicyNumber.CLEAR_CYCLES_AFTER_WORK);
            return features.isOver(sign, context.machine(), cycles, policy);
        }
        boolean isLongOpen = millis - raisedAt >= policy.get(PolicyNumber.CLEAR_HOURS) * HOUR_MILLIS;
        return (isLongOpen || isPassedBy(sign, raisedAt, policy, context))
                && features.isOver(sign, context.machine(), (int) policy.get(PolicyNumber.CLEAR_CYCLES), policy)
                && features.isOverForADay(sign, context.machine(), policy);
    }

    /** What has come back once is not over so soon again: a fault of each afternoon is well each night. */
    private boolean isPassedBy(Sign sign, long raisedAt, GroupPolicy policy, RuleContext context) {
        return sign.mayPass()
                && context.isEarly(sign.condition())
                && !context.hasComeBack(sign.condition())
                && features.isStepOver(sign, context.machine(), raisedAt, policy);
    }

    private void early(Sign sign, Sign.Change change, Conditions now, long millis, RuleContext context) {
        Watched one = features.get(change.feature()).orElseThrow();
        DriftReport report = new DriftReport(change.feature(), one, now, context.policy(sign.condition()));
        Optional<LimitExpected> date =
                report.date(context.limits(), days, context.weather(), peakKelvin, change.upward(), millis);
        context.report(
                sign.condition(),
                millis,
                report.bare(date, causes(change, false, context), millis),
                () -> report.early(
                        context.limits(),
                        date,
                        days.warmestAhead(context.weather()).isPresent(),
                        causes(change, true, context),
                        millis));
    }

    private Assessment atLimit(Sign sign, RuleContext context) {
        Assessment found = limits.found(sign, context.limits());
        Sign.Change change = sign.changes().get(0);
        Optional<Watched> learned = features.get(change.feature()).filter(Watched::hasLevel);
        Optional<List<ProbableCause>> atOnce =
                isShown(learned, context) ? Optional.empty() : limits.causesAtOnce(sign, learned.isPresent());
        if (atOnce.isPresent()) {
            return found.causes(atOnce.get());
        }
        return learned.isPresent() ? found.causes(causes(change, true, context)) : found;
    }

    private static boolean isShown(Optional<Watched> learned, RuleContext context) {
        return learned.filter(one -> one.level() >= LEAST_OF_MATERIAL * one.material(context.policy()))
                .isPresent();
    }

    /** What the split cannot show, since the sensor reads the warm air, too; in the sun the sensor alone gets warm. */
    private void warmInlet(RawCycle raw, List<Residual> residuals, RuleContext context) {
        if (warmInlet.isWarm()
                && !WarmInlet.isSensorAlone(residuals)
                && raw.condensingEndCelsius().isPresent()
                && !context.isOpen(Condition.RISING_CONDENSING_TEMPERATURE)) {
            context.report(
                    Condition.RISING_CONDENSING_TEMPERATURE,
                    raw.endMillis(),
                    AtLimit.warmInlet(
                            warmInlet.kelvin(),
                            raw.condensingEndCelsius().getAsDouble(),
                            context.limits().condensingCelsius()));
        }
    }

    /** The machine says that it is cleaned, whether anybody writes it down or not. */
    public void cleaned(long millis) {
        changed = true;
        features.cleaned(millis);
    }

    /** What the ambient sensors of this machine and of the others in its room say, once an hour. */
    public void room(double ownCelsius, double othersCelsius) {
        changed = true;
        warmInlet.hour(ownCelsius, othersCelsius);
    }

    /**
     * Time goes by in a freeze.
     *
     * @param instead what is known to stop the machine before a cycle could show it; empty where nothing is
     */
    public void passed(long pullingDownSince, long millis, List<ProbableCause> instead, RuleContext context) {
        boolean isNew = limits.passed(pullingDownSince, millis, context);
        changed = changed || limits.isPullDownBeyond();
        if (isNew) {
            Assessment found = atLimit(Sign.SLOW_PULL_DOWN, context);
            report(Sign.SLOW_PULL_DOWN, millis, instead.isEmpty() ? found : found.causes(instead), context);
        }
    }

    /** A drain level signal has ended, or has lasted so long already. */
    public void drainLevel(long millis, double seconds, RuleContext context) {
        changed = true;
        if (limits.drainLevel(seconds, millis, context)) {
            report(Sign.DRAIN_OVERRUN, millis, atLimit(Sign.DRAIN_OVERRUN, context), context);
        }
    }

    private void report(Sign sign, long millis, Assessment found, RuleContext context) {
        boolean wasOpen = context.isOpen(sign.condition());
        context.report(sign.condition(), millis, found);
        markIfRaised(sign, wasOpen, context);
    }

    /**
     * Work on the machine was recorded. What was weak from its first day on has no former self to come back to: it is learned anew
     * after any work.
     *
     * @param waits whether what the work touches by so much is not to be learned anew yet
     */
    public void work(
            EventKind kind, String detail, long millis, BiPredicate<Feature, Double> waits, RuleContext context) {
        if (Work.isWork(kind)) {
            changed = true;
            features.worked(millis, Work.isOfEngineer(kind));
            if (kind == EventKind.CLEANED) {
                features.cleaned(millis);
            }
            Work work = context.isOpen(Condition.BELOW_ITS_KIND) ? Work.ON_EVERYTHING : Work.of(kind, detail);
            features.rebase(work, waits, context.policy());
        }
    }

    /** An engineer who finds nothing knows better than an estimated place: what the machine does is what it should do. */
    public void nothingFound(long millis, RuleContext context) {
        for (Sign sign : Sign.ALL) {
            if (context.isEarly(sign.condition())) {
                over(sign, millis, Ending.NOTHING_FOUND, context);
                features.relearn(sign, context.policy());
            }
        }
    }

    /** What a condition complains of; empty for one that is not about a feature of a cycle. */
    public Optional<Complaint> complaint(Condition condition, RuleContext context) {
        return features.complaint(condition, context.machine());
    }

    /** What its cycles of about the last day say of its care. */
    public CareSigns careSigns(RuleContext context) {
        return new DayDrift(features, context);
    }

    /** What is expected of the machine, for proofs. */
    public Expectations expectations(GroupPolicy policy) {
        return new Expectations() {
            @Override
            public Optional<Standing> of(Feature feature, long sinceMillis) {
                return features.get(feature).flatMap(one -> one.standing(sinceMillis, policy));
            }

            @Override
            public void rebase(Feature feature, double spread) {
                features.get(feature).ifPresent(one -> one.rebase(spread, policy));
            }
        };
    }

    /**
     * What is probably wrong, as the residuals stand now: about the feature that is furthest from what it should be. Empty
     * where none is far enough to say anything.
     */
    public List<ProbableCause> causes(RuleContext context) {
        if (harvests.isColdSuspected()) {
            return HarvestWatch.causesOfCold(features.lastMillis(), context);
        }
        if (limits.isDrainRepeated()) {
            List<ProbableCause> ofDrain = atLimit(Sign.DRAIN_OVERRUN, context).causes();
            if (!ofDrain.isEmpty()) {
                return ofDrain;
            }
        }
        return features.worst(LEAST_OF_MATERIAL, context)
                .map(change -> features.causes(change, true, context))
                .orElse(List.of());
    }

    /** A plate that no hot gas comes to upsets everything that follows: then nothing else is asked. */
    private List<ProbableCause> causes(Sign.Change change, boolean inWords, RuleContext context) {
        return harvests.isCold() && change.feature() != Feature.DRAIN_LEVEL
                ? HarvestWatch.causesOfCold(features.lastMillis(), context)
                : features.causes(change, inWords, context);
    }

    /**
     * What makes the condensing temperature high. Where the cycles before showed nothing, it came at once, and they say
     * nothing of its cause: then only how often each cause comes like that [common practice].
     *
     * @param ambient what its own sensor shows, °C
     */
    public List<ProbableCause> causesOfHeat(OptionalDouble ambient, RuleContext context) {
        if (harvests.isColdSuspected()) {
            return HarvestWatch.causesOfCold(features.lastMillis(), context);
        }
        boolean isKnown = isShown(features.get(Feature.SPLIT).filter(Watched::hasLevel), context);
        return isKnown
                ? features.causes(Sign.RISING_CONDENSING.changes().get(0), true, context)
                : SuddenHeat.causes(ambient, context);
    }

    /** What it does beside its kind, as far as it has shown itself. */
    public Map<Feature, OfKind> ofKind(GroupPolicy policy) {
        return BesideItsKind.of(features, policy);
    }

    /** Whether what one of them does says what the other should do. */
    public static boolean areOfAKind(Machine one, Machine other) {
        return BesideItsKind.areOfAKind(one, other);
    }

    /** A day has passed: others of its kind on the site have shown this. */
    public void kind(List<Map<Feature, OfKind>> others, RuleContext context) {
        if (context.machine().kind() == Machine.Kind.BATCH && features.lastMillis() != Long.MIN_VALUE) {
            new BesideItsKind(ofKind(context.policy()), others, context).judge(features.lastMillis());
        }
    }

    /** Whether its state is another one than when it was last saved or restored: most readings of a cycle leave it as it is. */
    public boolean hasChanged() {
        return changed;
    }

    public void save(StateWriter out) {
        changed = false;
        features.save(out);
        limits.save(out);
        harvests.save(out);
        warmInlet.save(out);
        roomByCondenser.save(out);
        days.save(out);
        putRight.save(out);
        out.real(peakKelvin);
    }

    public static MachineWatch restore(StateReader in, GroupPolicy policy) {
        MachineWatch watch = new MachineWatch();
        watch.features = WatchedFeatures.restore(in, policy);
        watch.limits = CycleLimits.restore(in);
        watch.harvests = HarvestWatch.restore(in);
        watch.warmInlet = WarmInlet.restore(in);
        watch.roomByCondenser = RoomByCondenser.restore(in);
        watch.days = PlaceDays.restore(in);
        watch.putRight = PutRight.restore(in);
        watch.peakKelvin = in.real();
        watch.changed = false;
        return watch;
    }
}
