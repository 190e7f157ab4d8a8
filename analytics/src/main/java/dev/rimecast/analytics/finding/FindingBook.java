package dev.rimecast.analytics.finding;

import dev.rimecast.analytics.policy.Grounding;
import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.question.Answers;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Stream;

/**
 * The findings that are open for one subject, at most one for each condition. An update goes out only when something a
 * person would act on has changed: stage, priority, the first cause, or a date by more than the policy's share of the time
 * left and days. What comes and goes rests between its returns ({@link Returns}): it is open, and no rule sees it as open.
 */
public final class FindingBook {
    /** Version of what decides, in every cycle and finding; goes up with every change of meaning. */
    public static final String DETECTOR_VERSION = "6";

    /** The summary of a revision that only an answer has brought. */
    private static final String AS_BEFORE = "";

    private static final String RESTS = " It may come back.";
    /** From this layout of a machine's state on, it has what comes and goes. */
    private static final int WITH_RETURNS = 13;

    private static final double CAUSE_MARGIN = 0.1;

    private final Subject subject;
    private final Map<Condition, OpenFinding> open = new EnumMap<>(Condition.class);
    private Returns returns = new Returns();
    private Answers answers = new Answers();
    /** The machine that can be asked about; absent for a gateway. */
    private Optional<Machine> machine = Optional.empty();

    public FindingBook(Subject subject) {
        this.subject = subject;
    }

    /** The machine's row as it is now: it decides which questions make sense. */
    public void about(Machine row) {
        machine = Optional.of(row);
    }

    /** Whether it is so now: open, and not resting. */
    public boolean isOpen(Condition condition) {
        return open.containsKey(condition) && !returns.isResting(condition);
    }

    /** Whether one of them is open, or rests. */
    public boolean isAnyOpen(List<Condition> conditions) {
        if (open.isEmpty()) {
            return false;
        }
        for (int i = 0; i < conditions.size(); i++) {
            if (open.containsKey(conditions.get(i))) {
                return true;
            }
        }
        return false;
    }

    /** Whether it has come back within {@code delays.comes_again_minutes} of its last end. */
    public boolean hasComeBack(Condition condition) {
        return returns.times(condition) > 1;
    }

    public boolean isEmpty() {
        return open.isEmpty();
    }

    public Optional<OpenFinding> get(Condition condition) {
        return Optional.ofNullable(open.get(condition));
    }

    /** Raises the condition, or updates it if that matters. */
    public void report(
            Condition condition,
            long millis,
            Assessment assessment,
            String policyVersion,
            GroupPolicy policy,
            Consumer<Finding> out) {
        Instant at = Instant.ofEpochMilli(millis);
        OpenFinding before = open.get(condition);
        boolean isBack = returns.isResting(condition);
        if (before == null || isBack) {
            returns.came(condition, millis, policy);
        }
        if (isBack && before != null) {
            OpenFinding updated = before.cameBack(assessment, policyVersion);
            open.put(condition, updated);
            Assessment again = assessment.saying(assessment.summary() + again(condition));
            out.accept(grounded(finding(condition, Finding.Step.UPDATED, at, updated, again), assessment, policy));
        } else if (before == null) {
            OpenFinding raised = OpenFinding.raised(at, assessment, policyVersion);
            open.put(condition, raised);
            out.accept(grounded(finding(condition, Finding.Step.RAISED, at, raised, assessment), assessment, policy));
        } else if (isMaterial(before, assessment, at, policy)) {
            OpenFinding updated = before.updated(assessment);
            open.put(condition, updated);
            out.accept(grounded(finding(condition, Finding.Step.UPDATED, at, updated, assessment), assessment, policy));
        }
    }

    /** Whether {@link #report} would say anything of it: by stage, priority, causes and date. */
    public boolean isNews(Condition condition, long millis, Assessment assessment, GroupPolicy policy) {
        OpenFinding before = open.get(condition);
        return before == null
                || returns.isResting(condition)
                || isMaterial(before, assessment, Instant.ofEpochMilli(millis), policy);
    }

    private String again(Condition condition) {
        return String.format(
                Locale.ROOT,
                " It has come %d times since %s.",
                returns.times(condition),
                LocalDate.ofInstant(Instant.ofEpochMilli(returns.firstMillis(condition)), ZoneOffset.UTC));
    }

    private boolean isMaterial(OpenFinding before, Assessment now, Instant at, GroupPolicy policy) {
        return before.stage() != now.stage()
                || before.priority() != now.priority()
                || isOtherCause(answers.weigh(before.causes()), answers.weigh(now.causes()))
                || isOtherDate(before.limit(), now.limit(), at, policy);
    }

    private static boolean isOtherCause(List<ProbableCause> before, List<ProbableCause> now) {
        if (before.isEmpty() || now.isEmpty()) {
            return Stream.concat(before.stream(), now.stream()).anyMatch(cause -> cause.probability() > CAUSE_MARGIN);
        }
        ProbableCause first = now.get(0);
        Cause old = before.get(0).cause();
        if (first.cause() == old) {
            return false;
        }
        double ofOld = now.stream()
                .filter(c -> c.cause() == old)
                .mapToDouble(ProbableCause::probability)
                .findFirst()
                .orElse(0);
        return first.probability() - ofOld > CAUSE_MARGIN;
    }

    private static boolean isOtherDate(
            Optional<LimitExpected> before, Optional<LimitExpected> now, Instant at, GroupPolicy policy) {
        if (before.isEmpty() || now.isEmpty()) {
            return before.isPresent() != now.isPresent();
        }
        double dayMillis = Duration.ofDays(1).toMillis();
        double moved =
                Math.abs(Duration.between(before.get().at(), now.get().at()).toMillis()) / dayMillis;
        double left = Math.max(0, Duration.between(at, now.get().at()).toMillis() / dayMillis);
        return moved > policy.get(PolicyNumber.UPDATE_DAYS) && moved > policy.get(PolicyNumber.UPDATE_SHARE) * left;
    }

    /** Ends the condition if it is open, or has it rest; the causes stay those of the last diagnosis. */
    public void clear(Condition condition, long millis, String summary, Consumer<Finding> out) {
        OpenFinding last = open.get(condition);
        if (last == null || returns.isResting(condition)) {
            return;
        }
        if (!returns.rests(condition, millis)) {
            end(condition, millis, summary, out);
        } else if (last.stage() == Stage.STOPPED) {
            // The machine runs again: what it can make counts again, and its next stop is told.
            Assessment runs = new Assessment(
                    Stage.AT_LIMIT, last.priority(), last.causes(), last.measure(), last.limit(), summary, List.of());
            OpenFinding resting = last.updated(runs);
            open.put(condition, resting);
            Assessment said = runs.saying(summary + again(condition) + RESTS);
            out.accept(finding(condition, Finding.Step.UPDATED, Instant.ofEpochMilli(millis), resting, said));
        }
    }

    private void end(Condition condition, long millis, String summary, Consumer<Finding> out) {
        OpenFinding last = open.remove(condition);
        if (last == null) {
            return;
        }
        returns.over(condition);
        Assessment over = new Assessment(
                last.stage(), last.priority(), last.causes(), last.measure(), Optional.empty(), summary, List.of());
        Instant at = Instant.ofEpochMilli(millis);
        out.accept(finding(condition, Finding.Step.CLEARED, at, last.updated(over), over));
        if (open.isEmpty()) {
            answers.clear();
        }
    }

    /** Ends what has rested for long enough; to be called now and then. */
    public void passed(long millis, Function<Condition, GroupPolicy> policy, Consumer<Finding> out) {
        returns.forgetOld(millis, policy);
        if (open.isEmpty()) {
            return;
        }
        for (Condition condition : List.copyOf(open.keySet())) {
            if (returns.isQuiet(condition, millis, policy.apply(condition))) {
                end(
                        condition,
                        millis,
                        String.format(
                                Locale.ROOT,
                                "It has not come back for %.0f hours.",
                                policy.apply(condition).millis(PolicyNumber.QUIET_MINUTES) / 3_600_000.0),
                        out);
            }
        }
    }

    /**
     * Somebody on the site, or at a desk, has answered a question: every finding that has causes says so at once.
     *
     * @param text {@code question:answer}
     */
    public void answered(String text, long millis, String by, Consumer<Finding> out) {
        if (open.isEmpty() || !answers.take(text, millis, by)) {
            return;
        }
        Instant at = Instant.ofEpochMilli(millis);
        for (Map.Entry<Condition, OpenFinding> entry : open.entrySet()) {
            OpenFinding known = entry.getValue();
            if (!known.causes().isEmpty()) {
                Assessment same = new Assessment(
                        known.stage(),
                        known.priority(),
                        known.causes(),
                        known.measure(),
                        known.limit(),
                        AS_BEFORE,
                        List.of());
                OpenFinding updated = known.updated(same);
                entry.setValue(updated);
                out.accept(finding(entry.getKey(), Finding.Step.UPDATED, at, updated, same));
            }
        }
    }

    /** Work on the machine may have changed what people saw, and why something came back: what rests is over. */
    public void worked(long millis, Consumer<Finding> out) {
        for (Condition condition : List.copyOf(open.keySet())) {
            if (returns.isResting(condition)) {
                end(condition, millis, "The machine was worked on while it was not so.", out);
            }
        }
        returns.forget();
        answers.clear();
    }

    /** Ends everything that is open. */
    public void clearAll(long millis, String summary, Consumer<Finding> out) {
        for (Condition condition : List.copyOf(open.keySet())) {
            end(condition, millis, summary, out);
        }
        returns.forget();
    }

    private Finding grounded(Finding finding, Assessment assessment, GroupPolicy policy) {
        return finding.withGrounds(Grounding.of(assessment.by(), policy, machine));
    }

    private Finding finding(
            Condition condition, Finding.Step step, Instant at, OpenFinding state, Assessment assessment) {
        return new Finding(
                Finding.idOf(subject.key(), condition, state.raisedAt()),
                state.revision(),
                step,
                subject.site(),
                subject.machine(),
                subject.gateway(),
                condition,
                assessment.stage(),
                assessment.priority(),
                at,
                state.raisedAt(),
                answers.weigh(assessment.causes()),
                assessment.measure(),
                assessment.limit(),
                assessment.summary(),
                DETECTOR_VERSION,
                state.policyVersion(),
                inquiry(step, assessment));
    }

    /** By this finding, or by any other that is open. */
    private boolean stands(Assessment assessment) {
        return assessment.stage() == Stage.STOPPED
                || open.values().stream().anyMatch(finding -> finding.stage() == Stage.STOPPED);
    }

    /** What is over is asked about no more. */
    private Inquiry inquiry(Finding.Step step, Assessment assessment) {
        if (machine.isEmpty()) {
            return Inquiry.NONE;
        }
        Inquiry inquiry = answers.inquiry(assessment.causes(), machine.get(), stands(assessment));
        return step == Finding.Step.CLEARED ? new Inquiry(inquiry.given(), Optional.empty(), List.of()) : inquiry;
    }

    public void save(StateWriter out) {
        out.u8(open.size());
        open.forEach((condition, finding) -> {
            out.u8(condition.ordinal());
            finding.save(out);
        });
        answers.save(out);
        if (subject.machine().isPresent()) {
            returns.save(out);
        }
    }

    public static FindingBook restore(Subject subject, StateReader in) {
        FindingBook book = new FindingBook(subject);
        for (int count = in.u8(); count > 0; count--) {
            book.open.put(Condition.values()[in.u8()], OpenFinding.restore(in));
        }
        book.answers = Answers.restore(in);
        if (subject.machine().isPresent() && in.hasLayout(WITH_RETURNS)) {
            book.returns = Returns.restore(in);
        }
        return book;
    }
}
