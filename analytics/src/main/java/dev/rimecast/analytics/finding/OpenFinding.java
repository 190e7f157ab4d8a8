package dev.rimecast.analytics.finding;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What must be kept of a finding that is open. The evidence in words is not kept: it is made anew with every update.
 *
 * @param causes without what people answered, so that every answer is weighed once, whenever it comes
 * @param policyVersion of the policy it was raised under; it keeps that until it is cleared, or comes back
 */
public record OpenFinding(
        Instant raisedAt,
        int revision,
        Stage stage,
        Priority priority,
        List<ProbableCause> causes,
        Optional<Measure> measure,
        Optional<LimitExpected> limit,
        String policyVersion) {
    private static final int MOST_CAUSES = 8;

    static OpenFinding raised(Instant at, Assessment assessment, String policyVersion) {
        return of(at, 1, assessment, policyVersion);
    }

    OpenFinding updated(Assessment assessment) {
        return of(raisedAt, revision + 1, assessment, policyVersion);
    }

    /** What rested is judged by the policy of now. */
    OpenFinding cameBack(Assessment assessment, String ofNow) {
        return of(raisedAt, revision + 1, assessment, ofNow);
    }

    private static OpenFinding of(Instant raisedAt, int revision, Assessment assessment, String policyVersion) {
        return new OpenFinding(
                raisedAt,
                revision,
                assessment.stage(),
                assessment.priority(),
                withoutWords(assessment.causes()),
                assessment.measure(),
                assessment.limit(),
                policyVersion);
    }

    /** A probability is kept to a ten-thousandth. */
    private static List<ProbableCause> withoutWords(List<ProbableCause> causes) {
        return causes.stream()
                .limit(MOST_CAUSES)
                .map(c -> new ProbableCause(
                        c.cause(), Math.round(c.probability() * 10_000) / 10_000.0, List.of(), List.of()))
                .toList();
    }

    void save(StateWriter out) {
        out.whole(raisedAt.toEpochMilli()).whole(revision).u8(stage.ordinal()).u8(priority.ordinal());
        out.u8(causes.size());
        causes.forEach(c -> out.u8(c.cause().ordinal()).whole(Math.round(c.probability() * 10_000)));
        out.flag(measure.isPresent());
        measure.ifPresent(m -> {
            out.text(m.quantity()).text(m.unit()).measured(m.value());
            out.optionalReal(m.expected()).optionalReal(m.limit());
        });
        out.flag(limit.isPresent());
        limit.ifPresent(l -> out.whole(l.at().toEpochMilli())
                .whole(l.early().toEpochMilli())
                .whole(l.late().toEpochMilli()));
        out.text(policyVersion);
    }

    static OpenFinding restore(StateReader in) {
        Instant raisedAt = Instant.ofEpochMilli(in.whole());
        int revision = in.wholeInt();
        Stage stage = Stage.values()[in.u8()];
        Priority priority = Priority.values()[in.u8()];
        List<ProbableCause> causes = new ArrayList<>();
        for (int count = in.u8(); count > 0; count--) {
            causes.add(new ProbableCause(Cause.values()[in.u8()], in.whole() / 10_000.0, List.of(), List.of()));
        }
        Optional<Measure> measure = in.flag()
                ? Optional.of(new Measure(in.text(), in.text(), in.measured(), in.optionalReal(), in.optionalReal()))
                : Optional.empty();
        Optional<LimitExpected> limit =
                in.flag() ? Optional.of(new LimitExpected(instant(in), instant(in), instant(in))) : Optional.empty();
        return new OpenFinding(raisedAt, revision, stage, priority, List.copyOf(causes), measure, limit, in.text());
    }

    private static Instant instant(StateReader in) {
        return Instant.ofEpochMilli(in.whole());
    }
}
