package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.diagnosis.Course;
import dev.rimecast.analytics.diagnosis.Diagnosis;
import dev.rimecast.analytics.diagnosis.Observed;
import dev.rimecast.analytics.drift.Trend;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.DrainLimit;
import dev.rimecast.analytics.limits.PullDownLimit;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.FeatureNumber;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.log.EventKind;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;

/** Judges one machine's cycles: learns what it should do, and says when it no longer does. */
public final class MachineWatch {
    private static final long NONE = Long.MIN_VALUE;
    private static final long AFTER_WORK_MILLIS = 4 * 86_400_000L;
    private static final double PEAK_GAIN = 0.05;
    private static final double LEAST_OF_MATERIAL = 0.5;
    /** A step has no trend after so many days. */
    private static final int STEP_DAYS = 6;

    private final Map<Feature, Watched> watched = new EnumMap<>(Feature.class);
    private PullDownLimit pullDownLimit = new PullDownLimit();
    private DrainLimit drainLimit = new DrainLimit();
    private LeftIce leftIce = new LeftIce();
    private PlaceDays days = new PlaceDays();
    /** How far the condensing temperature peaks above what it is at the end of a freeze, K. */
    private double peakKelvin;

    private long workAt = NONE;

    /** Takes a finished cycle; returns every feature that could be judged, against its expectation. */
    public List<Residual> cycle(RawCycle raw, Conditions conditions, RuleContext context) {
        long millis = raw.endMillis();
        days.see(conditions.ambientCelsius(), conditions.waterCelsius(), millis);
        seePeak(raw);
        List<Residual> residuals = new ArrayList<>();
        CycleFeatures.of(raw, conditions, context).forEach((feature, value) -> {
            Watched one = watched.computeIfAbsent(feature, f -> new Watched(f, context.policy()));
            one.take(value, conditions, millis, isOpen(feature, context), context.policy())
                    .ifPresent(residuals::add);
        });
        pullDownLimit.cycle(raw.pullDownSeconds(), context.limits().pullDownSeconds());
        leftIce(raw, residuals, context);
        for (Sign sign : Sign.values()) {
            evaluate(sign, conditions, millis, context);
        }
        return List.copyOf(residuals);
    }

    private void seePeak(RawCycle raw) {
        if (raw.condensingPeakCelsius().isPresent()
                && raw.condensingEndCelsius().isPresent()) {
            double peak = raw.condensingPeakCelsius().getAsDouble()
                    - raw.condensingEndCelsius().getAsDouble();
            peakKelvin += (peak - peakKelvin) * (peakKelvin == 0 ? 1 : PEAK_GAIN);
        }
    }

    private static boolean isOpen(Feature feature, RuleContext context) {
        for (Sign sign : Sign.values()) {
            if (sign.features().contains(feature) && context.isOpen(sign.condition())) {
                return true;
            }
        }
        return false;
    }

    private void evaluate(Sign sign, Conditions conditions, long millis, RuleContext context) {
        GroupPolicy policy = context.policy(sign.condition());
        Optional<Feature> changed = firstAlarm(sign, policy);
        boolean isOpen = context.isOpen(sign.condition());
        boolean isAtLimit = isAtLimit(sign);
        if (isAtLimit) {
            context.report(sign.condition(), millis, atLimit(sign, context));
        } else if (changed.isPresent()) {
            context.report(sign.condition(), millis, early(sign, changed.get(), conditions, millis, context));
        } else if (isOpen && isOver(sign, millis, policy, context)) {
            context.clear(sign.condition(), millis, Ending.of(sign.features().get(0)));
            sign.features().forEach(f -> Optional.ofNullable(watched.get(f)).ifPresent(Watched::reset));
        }
        if (!isOpen && context.isOpen(sign.condition())) {
            sign.features().forEach(f -> Optional.ofNullable(watched.get(f)).ifPresent(Watched::mark));
        }
    }

    private Optional<Feature> firstAlarm(Sign sign, GroupPolicy policy) {
        for (Feature feature : sign.features()) {
            Watched one = watched.get(feature);
            if (one != null && one.hasLevel() && one.isAlarm(sign.isUpward(), policy)) {
                return Optional.of(feature);
            }
        }
        return Optional.empty();
    }

    private boolean isOver(Sign sign, long millis, GroupPolicy policy, RuleContext context) {
        long raisedAt = context.open(sign.condition()).orElseThrow().raisedAt().toEpochMilli();
        boolean isWorkedOn = workAt != NONE && workAt >= raisedAt && workAt <= millis;
        int cycles = (int) policy.get(isWorkedOn ? PolicyNumber.CLEAR_CYCLES_AFTER_WORK : PolicyNumber.CLEAR_CYCLES);
        for (Feature feature : sign.features()) {
            Watched one = watched.get(feature);
            if (one != null && one.hasLevel() && !one.isOver(sign.isUpward(), cycles, policy)) {
                return false;
            }
        }
        return true;
    }

    private Assessment early(Sign sign, Feature feature, Conditions now, long millis, RuleContext context) {
        GroupPolicy policy = context.policy(sign.condition());
        Watched one = java.util.Objects.requireNonNull(watched.get(feature));
        DriftReport report = new DriftReport(feature, one, now, policy);
        Trend trend = report.trend(sign.isUpward(), millis);
        Course course = course(trend, one, sign, policy);
        long began = one.track().changeBeganMillis(sign.isUpward(), policy);
        return report.early(
                limit(feature, context),
                report.date(context.limits(), days, peakKelvin, trend, millis),
                causes(feature, sign.isUpward(), course, isAfterWork(began), context),
                millis);
    }

    private static Course course(Trend trend, Watched one, Sign sign, GroupPolicy policy) {
        if (trend.isDrift(policy.get(PolicyNumber.TREND_PROBABILITY))) {
            return Course.DRIFT;
        }
        boolean isQuick = one.track().isStepAlarm(sign.isUpward(), policy) && trend.days() <= 2;
        return isQuick || trend.days() >= STEP_DAYS ? Course.STEP : Course.EITHER;
    }

    private boolean isAfterWork(long began) {
        return workAt != NONE && began >= workAt - AFTER_WORK_MILLIS / 4 && began - workAt <= AFTER_WORK_MILLIS;
    }

    private static OptionalDouble limit(Feature feature, RuleContext context) {
        return switch (feature) {
            case PULL_DOWN -> OptionalDouble.of(context.limits().pullDownSeconds());
            case DRAIN_LEVEL -> OptionalDouble.of(context.limits().drainLevelSeconds());
            case SPLIT, FREEZE, HARVEST, EVAPORATOR_END, DRAIN_RUN, FILL -> OptionalDouble.empty();
        };
    }

    private boolean isAtLimit(Sign sign) {
        return switch (sign) {
            case SLOW_PULL_DOWN -> pullDownLimit.isBeyond();
            case DRAIN_OVERRUN -> drainLimit.isOver();
            case RISING_CONDENSING, LONG_FREEZE, SHORT_FREEZE, LONG_HARVEST, SLOW_FILL -> false;
        };
    }

    private Assessment atLimit(Sign sign, RuleContext context) {
        Assessment found = sign == Sign.SLOW_PULL_DOWN
                ? AtLimit.pullDown(pullDownLimit, context.limits())
                : AtLimit.drain(drainLimit, context.limits());
        return found.causes(causes(sign.features().get(0), sign.isUpward(), Course.EITHER, false, context));
    }

    /** Time goes by in a freeze. */
    public void passed(long pullingDownSince, long millis, RuleContext context) {
        if (pullDownLimit.passed(pullingDownSince, millis, context.limits().pullDownSeconds())) {
            report(Sign.SLOW_PULL_DOWN, millis, context);
        }
    }

    /** A drain level signal has ended, or has lasted so long already. */
    public void drainLevel(long millis, double seconds, RuleContext context) {
        if (drainLimit.level(seconds, millis, context.limits().drainLevelSeconds()) && drainLimit.isOver()) {
            report(Sign.DRAIN_OVERRUN, millis, context);
        }
    }

    private void report(Sign sign, long millis, RuleContext context) {
        boolean wasOpen = context.isOpen(sign.condition());
        context.report(sign.condition(), millis, atLimit(sign, context));
        if (!wasOpen) {
            sign.features().forEach(f -> Optional.ofNullable(watched.get(f)).ifPresent(Watched::mark));
        }
    }

    private void leftIce(RawCycle raw, List<Residual> residuals, RuleContext context) {
        for (Residual residual : residuals) {
            if (residual.feature() == Feature.PULL_DOWN) {
                double share = context.policy(Condition.INCOMPLETE_HARVEST).get(PolicyNumber.SHORT_PULL_DOWN_SHARE);
                leftIce.cycle(residual.measured(), residual.expected(), share);
                boolean isOpen = context.isOpen(Condition.INCOMPLETE_HARVEST);
                if (leftIce.isSeen() && !isOpen) {
                    context.report(Condition.INCOMPLETE_HARVEST, raw.endMillis(), AtLimit.leftIce(residual));
                } else if (!leftIce.isSeen() && isOpen) {
                    context.clear(Condition.INCOMPLETE_HARVEST, raw.endMillis(), "The plate starts free of ice again.");
                }
            }
        }
    }

    /** Work on the machine was recorded. */
    public void work(EventKind kind, String detail, long millis, GroupPolicy policy) {
        if (!Work.isWork(kind)) {
            return;
        }
        workAt = millis;
        Work work = Work.of(kind, detail);
        watched.forEach((feature, one) -> {
            if (work.features().contains(feature)) {
                one.rebase(work.spread() * policy.get(feature, FeatureNumber.TYPICAL_SPREAD), policy);
            } else {
                one.mark();
            }
        });
    }

    /**
     * What is probably wrong, as the residuals stand now: about the feature that is furthest from what it should be. Empty
     * where none is far enough to say anything.
     */
    public List<ProbableCause> causes(RuleContext context) {
        Optional<Sign> worst = Optional.empty();
        double most = LEAST_OF_MATERIAL;
        for (Sign sign : Sign.values()) {
            for (Feature feature : sign.features()) {
                Watched one = watched.get(feature);
                if (one != null && one.hasLevel()) {
                    double size = (sign.isUpward() ? 1 : -1) * one.level() / one.material(context.policy());
                    if (size > most) {
                        most = size;
                        worst = Optional.of(sign);
                    }
                }
            }
        }
        return worst.map(sign -> causes(sign.features().get(0), sign.isUpward(), Course.EITHER, false, context))
                .orElse(List.of());
    }

    /**
     * What makes the condensing temperature high. Where the cycles before showed nothing, it came at once, and they say
     * nothing of its cause: then only how often each cause comes like that [common practice].
     */
    public List<ProbableCause> causesOfHeat(RuleContext context) {
        Watched split = watched.get(Feature.SPLIT);
        boolean wasSound = split == null
                || !split.hasLevel()
                || split.level() < LEAST_OF_MATERIAL * split.material(context.policy());
        if (wasSound) {
            return SuddenHeat.CAUSES;
        }
        return causes(Feature.SPLIT, true, Course.EITHER, false, context);
    }

    private List<ProbableCause> causes(
            Feature about, boolean upward, Course course, boolean isAfterWork, RuleContext context) {
        GroupPolicy policy = context.policy();
        Map<Feature, Observed.Level> levels = new EnumMap<>(Feature.class);
        watched.forEach((feature, one) -> {
            if (one.hasLevel()) {
                levels.put(feature, new Observed.Level(one.level(), one.track().sigma(), one.material(policy)));
            }
        });
        return Diagnosis.of(new Observed(
                about, upward, levels, course, isAfterWork, context.machine().freezeEndsBy()));
    }

    public void save(StateWriter out) {
        out.u8((int) watched.values().stream().filter(w -> !w.isEmpty()).count());
        watched.forEach((feature, one) -> {
            if (!one.isEmpty()) {
                out.u8(feature.ordinal());
                one.save(out);
            }
        });
        pullDownLimit.save(out);
        drainLimit.save(out);
        leftIce.save(out);
        days.save(out);
        out.real(peakKelvin).whole(workAt);
    }

    public static MachineWatch restore(StateReader in, GroupPolicy policy) {
        MachineWatch watch = new MachineWatch();
        for (int count = in.u8(); count > 0; count--) {
            Feature feature = Feature.values()[in.u8()];
            watch.watched.put(feature, Watched.restore(feature, in, policy));
        }
        watch.pullDownLimit = PullDownLimit.restore(in);
        watch.drainLimit = DrainLimit.restore(in);
        watch.leftIce = LeftIce.restore(in);
        watch.days = PlaceDays.restore(in);
        watch.peakKelvin = in.real();
        watch.workAt = in.whole();
        return watch;
    }
}
