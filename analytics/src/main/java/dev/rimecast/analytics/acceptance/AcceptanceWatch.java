package dev.rimecast.analytics.acceptance;

import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.analytics.expect.FeatureModel;
import dev.rimecast.analytics.expect.FeatureScale;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.watch.JudgedCycle;
import dev.rimecast.telemetry.cycle.Acceptance;
import dev.rimecast.telemetry.cycle.Acceptance.Probes;
import dev.rimecast.telemetry.cycle.Acceptance.Rating;
import dev.rimecast.telemetry.cycle.Acceptance.Reason;
import dev.rimecast.telemetry.cycle.Acceptance.Shown;
import dev.rimecast.telemetry.cycle.Acceptance.Verdict;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import java.time.Instant;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Looks at a machine's first cycles: when it is first seen, was moved, or was exchanged. It is held against its kind (the policy
 * of its model group, in the conditions of each cycle), not against itself: a machine that is bad from its first day has learned
 * that as normal. It ends after {@code cycles} judged ones, or after three times as many where too few could be judged.
 *
 * <p>Accepted is what does what its kind does in all that could be judged, with its probes told apart and nothing open; every one
 * that does not is named. Where the policy knows the kind only roughly, what is inside stays open: others of its model group may
 * say more. What can't be judged (a freeze that a clock ends, a split without ambient) is left out, never guessed.
 */
public final class AcceptanceWatch {
    private static final List<Feature> JUDGED =
            List.of(Feature.PULL_DOWN, Feature.FREEZE, Feature.HARVEST, Feature.SPLIT);
    private static final Set<Condition> NOT_OF_IT =
            EnumSet.of(Condition.MACHINE_SILENT, Condition.GATEWAY_SILENT, Condition.CLEANING_TOO_LONG);
    private static final int AT_MOST_TIMES = 3;
    private static final long NONE = Long.MIN_VALUE;

    private boolean isOpen = true;
    private Reason reason = Reason.FIRST_SEEN;
    private long since = NONE;
    private int complete;
    private Probes probes = Probes.NOT_YET_KNOWN;
    private final Map<Feature, Gauge> gauges = new EnumMap<>(Feature.class);
    private Output output = new Output();

    /** Of a machine of which nothing is known. */
    public AcceptanceWatch() {
        // looks at the first cycle that comes
    }

    /** Of a machine that has been at work for long. */
    public static AcceptanceWatch over() {
        AcceptanceWatch watch = new AcceptanceWatch();
        watch.isOpen = false;
        return watch;
    }

    /** The machine stands elsewhere, or is another one: its cycles from here on count. */
    public void begin(Reason why, long millis) {
        isOpen = true;
        reason = why;
        since = millis;
        complete = 0;
        probes = Probes.NOT_YET_KNOWN;
        gauges.clear();
        output = new Output();
    }

    /** Somebody has weighed a harvest: it counts with the next cycle. */
    public void weighed(double kilograms, long millis) {
        if (isOpen && since != NONE && millis >= since) {
            output.weighed(kilograms);
        }
    }

    /**
     * A cycle has been judged, and what is open after it is known.
     *
     * @return what is thought of the machine now; empty when that is no longer asked
     */
    public Optional<Acceptance> cycle(JudgedCycle judged, boolean areSwapped, RuleContext context) {
        long start = judged.raw().freezeStartMillis();
        if (!isOpen || !judged.raw().complete() || (since != NONE && start < since)) {
            return Optional.empty();
        }
        since = since == NONE ? start : since;
        complete++;
        Probes seen = FirstHarvest.of(judged.raw(), areSwapped);
        probes = seen == Probes.NOT_YET_KNOWN ? probes : seen;
        boolean isJudged = take(judged, context.policy());
        if (isJudged) {
            output.take(judged.raw(), judged.place());
        }
        double wanted = context.policy().get(PolicyNumber.ACCEPTANCE_CYCLES);
        int most = gauges.values().stream().mapToInt(Gauge::cycles).max().orElse(0);
        boolean isLast = most >= wanted || complete >= AT_MOST_TIMES * wanted;
        isOpen = !isLast;
        return Optional.of(said(isLast, context));
    }

    private boolean take(JudgedCycle judged, GroupPolicy policy) {
        boolean isJudged = false;
        for (Feature feature : JUDGED) {
            Double measured = judged.measured().get(feature);
            if (measured != null) {
                Conditions place = judged.placeOf(feature);
                gauges.computeIfAbsent(feature, f -> new Gauge())
                        .take(
                                FeatureScale.toScale(feature, measured),
                                FeatureModel.prior(feature, policy).expect(feature, place, policy));
                isJudged |= feature != Feature.SPLIT;
            }
        }
        return isJudged;
    }

    private Acceptance said(boolean isLast, RuleContext context) {
        GroupPolicy policy = context.policy();
        List<Shown> shown = gauges.entrySet().stream()
                .map(each -> each.getValue().shown(each.getKey(), isLast, policy))
                .toList();
        Optional<Rating> rating = output.rating(context.machine().ratedKgPerDay(), isLast, policy);
        List<Condition> wrong = EnumSet.allOf(Condition.class).stream()
                .filter(condition -> !condition.isCare() && !NOT_OF_IT.contains(condition))
                .filter(context::isOpen)
                .toList();
        Verdict verdict = verdict(shown, rating, wrong);
        return new Acceptance(
                reason,
                Instant.ofEpochMilli(since),
                complete,
                verdict,
                probes,
                output.ambientCelsius(),
                output.waterCelsius(),
                shown,
                rating,
                wrong,
                isLast,
                AcceptanceWords.of(verdict, probes, shown, rating, wrong, isLast));
    }

    private Verdict verdict(List<Shown> shown, Optional<Rating> rating, List<Condition> wrong) {
        boolean isBad = !wrong.isEmpty()
                || probes == Probes.SWAPPED
                || shown.stream().anyMatch(each -> each.verdict() == Verdict.NOT_ACCEPTED)
                || rating.filter(each -> each.verdict() == Verdict.NOT_ACCEPTED).isPresent();
        if (isBad) {
            return Verdict.NOT_ACCEPTED;
        }
        boolean isGood = probes == Probes.TOLD_APART
                && shown.stream().anyMatch(each -> each.feature() != Feature.SPLIT)
                && shown.stream().allMatch(each -> each.verdict() == Verdict.ACCEPTED)
                && rating.filter(each -> each.verdict() != Verdict.ACCEPTED).isEmpty();
        return isGood ? Verdict.ACCEPTED : Verdict.NOT_YET_KNOWN;
    }

    public void save(StateWriter out) {
        out.flag(isOpen);
        if (isOpen) {
            out.u8(reason.ordinal())
                    .time(since)
                    .whole(complete)
                    .u8(probes.ordinal())
                    .u8(gauges.size());
            gauges.forEach((feature, gauge) -> {
                out.u8(feature.ordinal());
                gauge.save(out);
            });
            output.save(out);
        }
    }

    public static AcceptanceWatch restore(StateReader in) {
        AcceptanceWatch watch = new AcceptanceWatch();
        watch.isOpen = in.flag();
        if (watch.isOpen) {
            watch.reason = Reason.values()[in.u8()];
            watch.since = in.time();
            watch.complete = in.wholeInt();
            watch.probes = Probes.values()[in.u8()];
            for (int count = in.u8(); count > 0; count--) {
                Feature feature = Feature.values()[in.u8()];
                watch.gauges.put(feature, Gauge.restore(in));
            }
            watch.output = Output.restore(in);
        }
        return watch;
    }
}
