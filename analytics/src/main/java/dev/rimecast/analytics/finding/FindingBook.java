package dev.rimecast.analytics.finding;

import dev.rimecast.analytics.policy.GroupPolicy;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import java.time.Duration;
import java.time.Instant;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * The findings that are open for one subject, at most one for each condition. An update goes out only when something a
 * person would act on has changed: stage, priority, the first cause, or a date by more than the policy's share of the time
 * left and days.
 */
public final class FindingBook {
    /** Version of what decides, in every cycle and finding; goes up with every change of meaning. */
    public static final String DETECTOR_VERSION = "1";

    private static final double CAUSE_MARGIN = 0.1;

    private final Subject subject;
    private final Map<Condition, OpenFinding> open = new EnumMap<>(Condition.class);

    public FindingBook(Subject subject) {
        this.subject = subject;
    }

    public boolean isOpen(Condition condition) {
        return open.containsKey(condition);
    }

    /** Whether one of them is open. */
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
        if (before == null) {
            OpenFinding raised = OpenFinding.raised(at, assessment, policyVersion);
            open.put(condition, raised);
            out.accept(finding(condition, Finding.Step.RAISED, at, raised, assessment));
        } else if (isMaterial(before, assessment, at, policy)) {
            OpenFinding updated = before.updated(assessment);
            open.put(condition, updated);
            out.accept(finding(condition, Finding.Step.UPDATED, at, updated, assessment));
        }
    }

    private static boolean isMaterial(OpenFinding before, Assessment now, Instant at, GroupPolicy policy) {
        return before.stage() != now.stage()
                || before.priority() != now.priority()
                || isOtherCause(before, now)
                || isOtherDate(before.limit(), now.limit(), at, policy);
    }

    private static boolean isOtherCause(OpenFinding before, Assessment now) {
        if (before.causes().isEmpty() || now.causes().isEmpty()) {
            return before.causes().isEmpty() != now.causes().isEmpty();
        }
        Finding.ProbableCause first = now.causes().get(0);
        if (first.cause() == before.causes().get(0).cause()) {
            return false;
        }
        double ofOld = now.causes().stream()
                .filter(c -> c.cause() == before.causes().get(0).cause())
                .mapToDouble(Finding.ProbableCause::probability)
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

    /** Ends the condition if it is open; the causes stay those of the last diagnosis. */
    public void clear(Condition condition, long millis, String summary, Consumer<Finding> out) {
        OpenFinding last = open.remove(condition);
        if (last == null) {
            return;
        }
        Assessment over =
                new Assessment(last.stage(), last.priority(), last.causes(), last.measure(), Optional.empty(), summary);
        Instant at = Instant.ofEpochMilli(millis);
        out.accept(finding(condition, Finding.Step.CLEARED, at, last.updated(over), over));
    }

    /** Ends everything that is open. */
    public void clearAll(long millis, String summary, Consumer<Finding> out) {
        for (Condition condition : List.copyOf(open.keySet())) {
            clear(condition, millis, summary, out);
        }
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
                assessment.causes(),
                assessment.measure(),
                assessment.limit(),
                assessment.summary(),
                DETECTOR_VERSION,
                state.policyVersion());
    }

    public void save(StateWriter out) {
        out.u8(open.size());
        open.forEach((condition, finding) -> {
            out.u8(condition.ordinal());
            finding.save(out);
        });
    }

    public static FindingBook restore(Subject subject, StateReader in) {
        FindingBook book = new FindingBook(subject);
        for (int count = in.u8(); count > 0; count--) {
            book.open.put(Condition.values()[in.u8()], OpenFinding.restore(in));
        }
        return book;
    }
}
