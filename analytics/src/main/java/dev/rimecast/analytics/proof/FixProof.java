package dev.rimecast.analytics.proof;

import dev.rimecast.analytics.drift.Trend;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Verdict;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** One job on a machine that is still being proved: what it was about, and what the cycles since then say. */
final class FixProof {
    static final int TEN = 10;
    private static final int FEWEST_CYCLES = 2;
    private static final long DAY_MILLIS = 86_400_000;
    /** A machine that has rested for longer shows nothing of how it is now. */
    private static final long STALE_MILLIS = 3 * DAY_MILLIS;
    /** On the way back: so much of what is worth a finding, and growing so that it gets there in so many days. */
    private static final double ON_ITS_WAY_SHARE = 0.25;

    private static final int WAY_DAYS = 30;
    private static final int OTHER_FLAG = 0x80;
    private static final double EVEN = 0.5;
    /** From here on the first cycles are said to speak for the work, though nothing is certain yet. */
    private static final double LIKELY = 0.8;

    private final long workedAt;
    private long countFrom;
    private Optional<Cause> cause;
    private boolean isSlow;
    private final List<Part> parts = new ArrayList<>();
    /** What was open; of {@code others} no feature of a cycle tells whether they are over. */
    private final EnumSet<Condition> about = EnumSet.noneOf(Condition.class);

    private final EnumSet<Condition> others = EnumSet.noneOf(Condition.class);
    private final EnumSet<Condition> since = EnumSet.noneOf(Condition.class);
    private int complete;
    private Check check = Check.FIRST_CYCLES;
    private Verdict verdict = Verdict.NOT_YET_KNOWN;
    private int revision;

    FixProof(long workedAt, Optional<Cause> cause) {
        this.workedAt = workedAt;
        this.countFrom = workedAt;
        this.cause = cause;
    }

    long workedAt() {
        return workedAt;
    }

    long countFrom() {
        return countFrom;
    }

    Optional<Cause> cause() {
        return cause;
    }

    List<Part> parts() {
        return parts;
    }

    Set<Condition> about() {
        return about;
    }

    Set<Condition> since() {
        return since;
    }

    int complete() {
        return complete;
    }

    Check check() {
        return check;
    }

    Verdict verdict() {
        return verdict;
    }

    int nextRevision() {
        revision++;
        return revision;
    }

    boolean isSlow() {
        return isSlow;
    }

    /** A cause that comes back only slowly: only the last look says that it has held. */
    void slow() {
        isSlow = true;
    }

    void about(Condition condition, Optional<Complaint> complaint) {
        about.add(condition);
        if (complaint.isEmpty()) {
            others.add(condition);
        } else {
            watch(complaint.get());
        }
    }

    void watch(Complaint complaint) {
        if (parts.stream().noneMatch(part -> part.feature() == complaint.feature())) {
            parts.add(new Part(complaint));
        }
    }

    /** More of the same job: what was seen in between says nothing of it. */
    void more(long millis, Optional<Cause> found) {
        if (millis > countFrom) {
            countFrom = millis;
            complete = 0;
            parts.forEach(Part::beginAnew);
        }
        cause = found.or(() -> cause);
    }

    /** What the work may have changed of what is normal; returns whether that waits until it has held. */
    boolean touched(Feature feature, double spread) {
        Optional<Part> part = parts.stream()
                .filter(each -> each.feature() == feature && !about.isEmpty())
                .findFirst();
        part.ifPresent(each -> each.touched(spread));
        return part.isPresent();
    }

    void raised(Condition condition) {
        since.add(condition);
    }

    boolean isBack(Condition condition) {
        return about.contains(condition);
    }

    /** A complete cycle that began after the work. */
    void cycle(List<Residual> residuals, Expectations expectations) {
        complete++;
        for (Part part : parts) {
            residuals.stream()
                    .filter(residual -> residual.feature() == part.feature())
                    .forEach(residual -> expectations
                            .of(part.feature(), countFrom)
                            .ifPresent(standing -> part.take(residual, standing)));
        }
    }

    /** Cycles that count: those in which everything that is asked could be judged, where anything can. */
    int counted() {
        return parts.stream()
                .mapToInt(Part::cycles)
                .filter(cycles -> cycles > 0)
                .min()
                .orElse(parts.isEmpty() ? complete : 0);
    }

    boolean isTen() {
        return counted() >= TEN || complete >= 2 * TEN;
    }

    /** That the least sure of the parts has held; empty while none could be judged. */
    OptionalDouble probability(Check at, Expectations expectations, GroupPolicy policy) {
        return parts.stream()
                .filter(part -> part.cycles() > 0)
                .flatMap(part -> expectations.of(part.feature(), countFrom).stream()
                        .map(standing -> probability(at, part, standing, policy)))
                .min(Comparator.naturalOrder())
                .map(OptionalDouble::of)
                .orElse(OptionalDouble.empty());
    }

    double probability(Check at, Part part, Standing standing, GroupPolicy policy) {
        boolean isLate = at.compareTo(Check.SEVEN_DAYS) >= 0;
        boolean isFresh = standing.lastMillis() >= due(at) - STALE_MILLIS && standing.cycles() > 0;
        return isLate && isFresh ? part.probabilityLately(standing, policy) : part.probability(standing, policy);
    }

    /** When a look is due that is not due after a cycle. */
    long due(Check at) {
        return countFrom
                + switch (at) {
                    case FIRST_CYCLES, TEN_CYCLES -> 0;
                    case SEVEN_DAYS -> 7 * DAY_MILLIS;
                    case THIRTY_DAYS -> 30 * DAY_MILLIS;
                };
    }

    /** Looks again. */
    void look(Check at, boolean isAnyOtherOpen, Expectations expectations, GroupPolicy policy) {
        verdict = judge(at, isAnyOtherOpen, expectations, policy);
        check = at;
        if (isGood() && at != Check.FIRST_CYCLES) {
            for (Part part : parts) {
                double spread = part.takeSpread();
                if (spread > 0) {
                    expectations.rebase(part.feature(), spread);
                }
            }
        }
    }

    /** It has come back, or something else has where nothing was wrong. */
    void back() {
        verdict = Verdict.NOT_HELD;
    }

    private Verdict judge(Check at, boolean isAnyOtherOpen, Expectations expectations, GroupPolicy policy) {
        double certainty = policy.get(PolicyNumber.PROOF_CERTAINTY);
        OptionalDouble probability = probability(at, expectations, policy);
        boolean isJudged = probability.isPresent() || (parts.isEmpty() && complete > 0);
        double held = probability.orElse(parts.isEmpty() ? 1 : EVEN);
        if (at == Check.THIRTY_DAYS) {
            return last(isJudged, held, isAnyOtherOpen, expectations, policy);
        }
        boolean areEnough = counted() >= FEWEST_CYCLES;
        if (areEnough && held <= 1 - certainty) {
            return Verdict.NOT_HELD;
        }
        // What has no feature of a cycle may end by its own delay: a week is enough for any.
        if (at == Check.SEVEN_DAYS && (isAnyOtherOpen || isGoingBack(at, expectations, policy))) {
            return Verdict.NOT_HELD;
        }
        boolean isKept = at == Check.SEVEN_DAYS && isGood() && held >= EVEN;
        double wanted = at == Check.FIRST_CYCLES ? LIKELY : certainty;
        if (!isJudged || !areEnough || isAnyOtherOpen || !(held >= wanted || isKept)) {
            return Verdict.NOT_YET_KNOWN;
        }
        return at == Check.FIRST_CYCLES || isSlow ? Verdict.HELD_SO_FAR : Verdict.HELD;
    }

    private boolean isGood() {
        return verdict == Verdict.HELD || verdict == Verdict.HELD_SO_FAR;
    }

    private Verdict last(
            boolean isJudged, double held, boolean isAnyOtherOpen, Expectations expectations, GroupPolicy policy) {
        if (isAnyOtherOpen || isGoingBack(Check.THIRTY_DAYS, expectations, policy)) {
            return Verdict.NOT_HELD;
        }
        if (!isJudged) {
            return Verdict.NOT_YET_KNOWN;
        }
        return held < EVEN ? Verdict.NOT_HELD : Verdict.HELD;
    }

    /** Whether a slow cause is on its way back, though nothing is worth a finding yet. */
    private boolean isGoingBack(Check at, Expectations expectations, GroupPolicy policy) {
        return isSlow
                && at.compareTo(Check.SEVEN_DAYS) >= 0
                && parts.stream()
                        .anyMatch(part -> expectations
                                .of(part.feature(), countFrom + DAY_MILLIS)
                                .filter(standing -> isGoingBack(part, standing, policy))
                                .isPresent());
    }

    private static boolean isGoingBack(Part part, Standing standing, GroupPolicy policy) {
        Trend trend = standing.trend().get();
        if (!trend.isDrift(policy.get(PolicyNumber.TREND_PROBABILITY))) {
            return false;
        }
        double sign = part.complaint().upward() ? 1 : -1;
        double slope = sign * trend.line().orElseThrow().slope();
        double level = sign * standing.level();
        return slope > 0
                && level >= ON_ITS_WAY_SHARE * standing.material()
                && level + WAY_DAYS * slope >= standing.material();
    }

    /** What was open and has no feature. */
    Set<Condition> others() {
        return others;
    }

    void save(StateWriter out) {
        out.time(workedAt).time(countFrom);
        out.u8(cause.map(c -> c.ordinal() + 1).orElse(0)).flag(isSlow);
        out.u8(about.size());
        about.forEach(c -> out.u8(c.ordinal() | (others.contains(c) ? OTHER_FLAG : 0)));
        out.u8(since.size());
        since.forEach(c -> out.u8(c.ordinal()));
        out.u8(parts.size());
        parts.forEach(part -> part.save(out));
        out.whole(complete).u8(check.ordinal()).u8(verdict.ordinal()).whole(revision);
    }

    static FixProof restore(StateReader in) {
        long workedAt = in.time();
        long countFrom = in.time();
        int cause = in.u8();
        FixProof proof = new FixProof(workedAt, cause == 0 ? Optional.empty() : Optional.of(Cause.values()[cause - 1]));
        proof.countFrom = countFrom;
        proof.isSlow = in.flag();
        for (int n = in.u8(); n > 0; n--) {
            int coded = in.u8();
            Condition condition = Condition.values()[coded & ~OTHER_FLAG];
            proof.about.add(condition);
            if ((coded & OTHER_FLAG) != 0) {
                proof.others.add(condition);
            }
        }
        for (int n = in.u8(); n > 0; n--) {
            proof.since.add(Condition.values()[in.u8()]);
        }
        for (int n = in.u8(); n > 0; n--) {
            proof.parts.add(Part.restore(in));
        }
        proof.complete = in.wholeInt();
        proof.check = Check.values()[in.u8()];
        proof.verdict = Verdict.values()[in.u8()];
        proof.revision = in.wholeInt();
        return proof;
    }
}
