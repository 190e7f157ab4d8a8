package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.CycleRow;
import dev.rimecast.telemetry.file.result.NamedCause;
import dev.rimecast.telemetry.file.result.RevisionRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.machine.Machine;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Truth and alerts by hand; times in days since the record's begin. Machines stand on site s behind gateway gw-1. */
final class Case {
    static final Instant BEGIN = Instant.parse("2026-05-04T00:00:00Z");

    private final List<TruthRow> truth = new ArrayList<>();
    private final List<AlertRow> alerts = new ArrayList<>();
    private final List<RevisionRow> history = new ArrayList<>();
    private final List<CycleRow> cycles = new ArrayList<>();
    private final List<Machine> machines = new ArrayList<>();

    static Instant day(double days) {
        return BEGIN.plus(Duration.ofSeconds(StrictMath.round(days * 86_400)));
    }

    Case sound(String machine) {
        machines.add(Machine.basic(machine, "s", "gw-1"));
        truth.add(new TruthRow(machine, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty()));
        return this;
    }

    Case fault(String machine, Cause cause, double onset, double deadline) {
        machines.add(Machine.basic(machine, "s", "gw-1"));
        truth.add(new TruthRow(
                machine, Optional.of(cause), Optional.of(day(onset)), Optional.empty(), Optional.of(day(deadline))));
        return this;
    }

    Case alert(String machine, Condition condition, double at, NamedCause... causes) {
        return alert(Optional.of(machine), condition, at, "", causes);
    }

    Case alertOfGateway(String gateway, double at) {
        return alert(Optional.empty(), Condition.GATEWAY_SILENT, at, "Gateway " + gateway + " has been silent.");
    }

    private Case alert(Optional<String> machine, Condition condition, double at, String summary, NamedCause... causes) {
        alerts.add(new AlertRow(
                "a" + alerts.size(),
                machine,
                condition,
                Stage.EARLY,
                Priority.MEDIUM,
                day(at),
                Optional.empty(),
                List.of(causes),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                summary));
        return this;
    }

    /** A revision of the alert that was added as number {@code alert}, from 0. */
    Case revision(int alert, double at, NamedCause... causes) {
        history.add(new RevisionRow(
                "a" + alert,
                history.size() + 1,
                day(at),
                Stage.EARLY,
                Priority.MEDIUM,
                List.of(causes),
                Optional.empty()));
        return this;
    }

    /** A cycle of 24 minutes. */
    Case cycle(String machine, double start) {
        cycles.add(new CycleRow(machine, day(start), OptionalDouble.of(1200), OptionalDouble.of(240), true));
        return this;
    }

    static NamedCause named(Cause cause, double probability) {
        return new NamedCause(cause, probability);
    }

    Score score(double days) {
        ScoreInput input = new ScoreInput(truth, alerts, history, cycles, machines, BEGIN, day(days));
        return Scoring.of(input, FittingConditions.standard());
    }
}
