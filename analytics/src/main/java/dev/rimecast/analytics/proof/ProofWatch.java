package dev.rimecast.analytics.proof;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.OpenFinding;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Proof.Shown;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Consumer;

/**
 * Follows work that was recorded on a machine for 30 days: after each of the first cycles, after ten, after a week, at the end.
 * What was wrong when it was recorded is what must be gone. Where nothing was, an engineer still sees how the machine does.
 *
 * <p>At most one job is followed. A second one within half a day is more of the same; later, one that is about something takes
 * the place of the first.
 */
public final class ProofWatch {
    private static final long HOUR_MILLIS = 3_600_000;
    private static final long SAME_JOB_MILLIS = 12 * HOUR_MILLIS;
    /** A finding that ended so shortly before the work was ended by it: it is written down later. */
    private static final long JUST_OVER_MILLIS = 2 * HOUR_MILLIS;

    private static final long OLDEST_MILLIS = 30 * 24 * HOUR_MILLIS;
    private static final double SLOW_PROBABILITY = 0.25;

    /** A leak that was topped up looks cured for weeks, whatever cause was reported with the charge. */
    private static final Set<Cause> SLOW = EnumSet.of(Cause.LOW_CHARGE);

    /** What no work on the machine is judged by: the place, the link, planned care. */
    private static final Set<Condition> NOT_OF_MACHINE = EnumSet.of(
            Condition.AMBIENT_OUT_OF_RANGE,
            Condition.WATER_OUT_OF_RANGE,
            Condition.MACHINE_SILENT,
            Condition.GATEWAY_SILENT,
            Condition.CLEANING_TOO_LONG);

    private static final List<Complaint> AS_IT_IS = List.of(
            new Complaint(Feature.PULL_DOWN, true, 0),
            new Complaint(Feature.SPLIT, true, 0),
            new Complaint(Feature.HARVEST, true, 0),
            new Complaint(Feature.DRAIN_LEVEL, true, 0));

    private Optional<FixProof> open = Optional.empty();
    private final JustOver justOver = new JustOver();

    /**
     * What was recorded.
     *
     * @param found the cause that was found, where it says one
     * @param ofEngineer whether it takes an engineer
     * @param ofCharge whether refrigerant was added or taken out
     */
    public record Job(long millis, Optional<Cause> found, boolean ofEngineer, boolean ofCharge) {}

    /** What a condition complains of; empty for one that is not about a feature of a cycle. */
    @FunctionalInterface
    public interface Complaints {
        Optional<Complaint> of(Condition condition);
    }

    /** Work on the machine was recorded; to be told before anything is learned anew because of it. */
    public void worked(Job job, long newestMillis, Complaints complaints, RuleContext context, Consumer<Proof> out) {
        if (newestMillis - job.millis() > OLDEST_MILLIS) {
            return;
        }
        List<Condition> about = about(job.millis(), context);
        boolean isMore = open.isPresent() && isSameJob(open.get(), job.millis());
        if (!isMore && about.isEmpty() && (open.isPresent() || !job.ofEngineer())) {
            return;
        }
        if (!isMore) {
            end(job.millis(), "Other work was done before that could be said for good.", context, out);
        }
        FixProof proof = isMore ? open.get() : new FixProof(job.millis(), job.found());
        open = Optional.of(proof);
        proof.more(job.millis(), job.found());
        about.forEach(condition -> proof.about(condition, complaints.of(condition)));
        if (proof.about().isEmpty()) {
            AS_IT_IS.forEach(proof::watch);
        }
        if (job.ofCharge() || isSlow(proof, about, context)) {
            proof.slow();
        }
        say(proof, job.millis(), NONE, context, out);
    }

    /** Nothing is known yet. */
    private static final Expectations NONE = new Expectations() {
        @Override
        public Optional<Standing> of(Feature feature, long sinceMillis) {
            return Optional.empty();
        }

        @Override
        public void rebase(Feature feature, double spread) {
            throw new IllegalStateException("nothing has held before the first cycle");
        }
    };

    /**
     * What the work touches of what is normal. What it was to mend is not learned anew before it is known to be mended: else a
     * repair that did nothing would make the fault normal.
     *
     * @param spread by about how much, on the feature's scale
     * @return whether it waits for that
     */
    public boolean touched(Feature feature, double spread) {
        return open.isPresent() && open.get().touched(feature, spread);
    }

    private static boolean isSameJob(FixProof proof, long millis) {
        return proof.check() == Check.FIRST_CYCLES && Math.abs(millis - proof.countFrom()) <= SAME_JOB_MILLIS;
    }

    private List<Condition> about(long millis, RuleContext context) {
        List<Condition> about = new ArrayList<>();
        for (Condition condition : Condition.values()) {
            boolean isOpen = context.open(condition)
                    .filter(finding -> finding.raisedAt().toEpochMilli() <= millis)
                    .isPresent();
            if (isOfMachine(condition) && (isOpen || justOver.isOver(condition, millis, JUST_OVER_MILLIS))) {
                about.add(condition);
            }
        }
        return about;
    }

    private static boolean isOfMachine(Condition condition) {
        return !condition.isCare() && !NOT_OF_MACHINE.contains(condition);
    }

    private static boolean isSlow(FixProof proof, List<Condition> about, RuleContext context) {
        if (proof.cause().isPresent()) {
            return SLOW.contains(proof.cause().get());
        }
        return about.stream()
                .flatMap(condition -> context.open(condition).map(OpenFinding::causes).stream())
                .flatMap(List::stream)
                .anyMatch(cause -> SLOW.contains(cause.cause()) && cause.probability() >= SLOW_PROBABILITY);
    }

    /** The machine is another one, or stands elsewhere: what was asked is asked no more. */
    public void end(long millis, String why, RuleContext context, Consumer<Proof> out) {
        open.ifPresent(proof -> {
            open = Optional.empty();
            send(proof, millis, List.of(), OptionalInt.empty(), OptionalDouble.empty(), true, why, context, out);
        });
    }

    /** A finding has been raised or is over. */
    public void finding(Finding finding, RuleContext context, Consumer<Proof> out) {
        Condition condition = finding.condition();
        if (!isOfMachine(condition)) {
            return;
        }
        if (finding.step() == Finding.Step.CLEARED) {
            justOver.over(
                    condition, finding.raisedAt().toEpochMilli(), finding.at().toEpochMilli());
        } else if (finding.step() == Finding.Step.RAISED && open.isPresent()) {
            raised(open.get(), finding, context, out);
        }
    }

    private void raised(FixProof proof, Finding finding, RuleContext context, Consumer<Proof> out) {
        long millis = finding.at().toEpochMilli();
        if (millis < proof.countFrom()) {
            return;
        }
        proof.raised(finding.condition());
        boolean isNewTrouble = proof.about().isEmpty() && proof.check() == Check.FIRST_CYCLES;
        if (proof.isBack(finding.condition()) || isNewTrouble) {
            proof.back();
            open = Optional.empty();
            String why = ProofWords.back(finding);
            send(proof, millis, List.of(), OptionalInt.empty(), OptionalDouble.of(0), true, why, context, out);
        }
    }

    /** A cycle has been judged. */
    public void cycle(
            RawCycle raw,
            List<Residual> residuals,
            Expectations expectations,
            RuleContext context,
            Consumer<Proof> out) {
        if (open.isEmpty()
                || !raw.complete()
                || raw.freezeStartMillis() < open.get().countFrom()) {
            return;
        }
        FixProof proof = open.get();
        proof.cycle(residuals, expectations);
        boolean isFirst = proof.check() == Check.FIRST_CYCLES;
        boolean isOpenQuestion = proof.check() == Check.TEN_CYCLES && proof.verdict() == Verdict.NOT_YET_KNOWN;
        if (isFirst || isOpenQuestion) {
            Check at = proof.isTen() ? Check.TEN_CYCLES : Check.FIRST_CYCLES;
            proof.look(at, isAnyOpen(proof, context), expectations, context.policy());
            if (isFirst || proof.verdict() != Verdict.NOT_YET_KNOWN) {
                say(proof, raw.endMillis(), expectations, context, out);
            }
        }
    }

    private static boolean isAnyOpen(FixProof proof, RuleContext context) {
        return proof.others().stream().anyMatch(context::isOpen);
    }

    /** Time has come to here; enough if it is called once an hour. */
    public void passed(long millis, Expectations expectations, RuleContext context, Consumer<Proof> out) {
        justOver.forget(millis);
        look(Check.SEVEN_DAYS, millis, expectations, context, out);
        look(Check.THIRTY_DAYS, millis, expectations, context, out);
    }

    private void look(Check at, long millis, Expectations expectations, RuleContext context, Consumer<Proof> out) {
        if (open.isEmpty()
                || open.get().check().compareTo(at) >= 0
                || millis < open.get().due(at)) {
            return;
        }
        FixProof proof = open.get();
        proof.look(at, isAnyOpen(proof, context), expectations, context.policy());
        if (at == Check.THIRTY_DAYS) {
            open = Optional.empty();
        }
        say(proof, proof.due(at), expectations, context, out);
    }

    private void say(FixProof proof, long millis, Expectations expectations, RuleContext context, Consumer<Proof> out) {
        double certainty = context.policy().get(PolicyNumber.PROOF_CERTAINTY);
        List<Shown> shown = new ArrayList<>();
        OptionalInt more = OptionalInt.of(0);
        for (Part part : proof.parts()) {
            Optional<Standing> standing = expectations.of(part.feature(), proof.countFrom());
            if (part.cycles() > 0 && standing.isPresent()) {
                shown.add(part.shown(proof.probability(proof.check(), part, standing.get(), context.policy())));
                OptionalInt ofPart = part.more(standing.get(), context.policy(), certainty);
                more = more.isPresent() && ofPart.isPresent()
                        ? OptionalInt.of(Math.max(more.getAsInt(), ofPart.getAsInt()))
                        : OptionalInt.empty();
            }
        }
        boolean isAsked = proof.check() == Check.FIRST_CYCLES && !shown.isEmpty();
        send(
                proof,
                millis,
                shown,
                isAsked ? more : OptionalInt.empty(),
                proof.probability(proof.check(), expectations, context.policy()),
                proof.check() == Check.THIRTY_DAYS,
                ProofWords.of(proof, shown, isAsked ? more : OptionalInt.empty()),
                context,
                out);
    }

    private static void send(
            FixProof proof,
            long millis,
            List<Shown> shown,
            OptionalInt more,
            OptionalDouble probability,
            boolean isLast,
            String summary,
            RuleContext context,
            Consumer<Proof> out) {
        Instant workedAt = Instant.ofEpochMilli(proof.workedAt());
        String machine = context.machine().id();
        out.accept(new Proof(
                Proof.idOf(machine, workedAt),
                proof.nextRevision(),
                context.machine().site(),
                machine,
                workedAt,
                Instant.ofEpochMilli(millis),
                proof.cause().or(() -> likely(proof, context)),
                List.copyOf(proof.about()),
                proof.check(),
                proof.verdict(),
                probability,
                proof.complete(),
                more,
                List.copyOf(proof.since()),
                shown,
                isLast,
                summary,
                FindingBook.DETECTOR_VERSION,
                context.policyVersion()));
    }

    private static Optional<Cause> likely(FixProof proof, RuleContext context) {
        return proof.about().stream()
                .flatMap(condition -> context.open(condition).map(OpenFinding::causes).stream())
                .flatMap(causes -> causes.stream().limit(1))
                .map(ProbableCause::cause)
                .findFirst();
    }

    public void save(StateWriter out) {
        out.flag(open.isPresent());
        open.ifPresent(proof -> proof.save(out));
        justOver.save(out);
    }

    public static ProofWatch restore(StateReader in) {
        ProofWatch watch = new ProofWatch();
        if (in.flag()) {
            watch.open = Optional.of(FixProof.restore(in));
        }
        watch.justOver.restore(in);
        return watch;
    }
}
