package dev.rimecast.alerts.life;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
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
                plain.causes(),
                plain.measure(),
                limit,
                plain.summary(),
                plain.detectorVersion(),
                plain.policyVersion());
    }
}
