package dev.rimecast.alerts.life;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** Findings for tests. */
public final class Findings {
    public static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");

    private Findings() {}

    public static Finding raised(String machine, Condition condition, Instant at) {
        return finding(machine, condition, at, 1, Step.RAISED, Stage.EARLY, Priority.MEDIUM);
    }

    public static Finding finding(
            String machine,
            Condition condition,
            Instant raisedAt,
            int revision,
            Step step,
            Stage stage,
            Priority priority) {
        return new Finding(
                Finding.idOf(machine, condition, raisedAt),
                revision,
                step,
                "site-a",
                Optional.of(machine),
                Optional.empty(),
                condition,
                stage,
                priority,
                raisedAt.plusSeconds(60L * (revision - 1)),
                raisedAt,
                List.of(),
                Optional.empty(),
                Optional.empty(),
                "Something was seen.",
                "detector-1",
                "policy-1");
    }

    public static Finding next(Finding before, Step step, Stage stage, Priority priority) {
        return finding(
                before.machine().orElseThrow(),
                before.condition(),
                before.raisedAt(),
                before.revision() + 1,
                step,
                stage,
                priority);
    }

    public static Finding withLimit(Finding plain, Optional<Finding.LimitExpected> limit) {
        return with(plain, plain.causes(), limit, plain.inquiry());
    }

    public static Finding withInquiry(Finding plain, Inquiry inquiry) {
        return with(plain, plain.causes(), plain.limit(), inquiry);
    }

    /** What it is most probably from, and nothing beside. */
    public static Finding withCause(Finding plain, Cause cause) {
        List<ProbableCause> causes = List.of(new ProbableCause(cause, 0.7, List.of(), List.of()));
        return with(plain, causes, plain.limit(), plain.inquiry());
    }

    private static Finding with(
            Finding plain, List<ProbableCause> causes, Optional<Finding.LimitExpected> limit, Inquiry inquiry) {
        return new Finding(
                plain.id(),
                plain.revision(),
                plain.step(),
                plain.site(),
                plain.machine(),
                plain.gateway(),
                plain.condition(),
                plain.stage(),
                plain.priority(),
                plain.at(),
                plain.raisedAt(),
                causes,
                plain.measure(),
                limit,
                plain.summary(),
                plain.detectorVersion(),
                plain.policyVersion(),
                inquiry);
    }
}
