package dev.rimecast.dashboard.fake;

import dev.rimecast.alerts.priority.Clocks;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.SiteIce;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Finding.Measure;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.UUID;
import java.util.stream.Stream;

/** Alerts as the product would raise them, worded as it words them. */
final class FakeAlerts {
    private final Instant now;

    FakeAlerts(Instant now) {
        this.now = now;
    }

    Instant ago(long hours) {
        return now.minus(Duration.ofHours(hours));
    }

    AlertView alert(
            String machine,
            String site,
            String siteName,
            Condition condition,
            Stage stage,
            Priority priority,
            Instant raisedAt,
            List<ProbableCause> causes,
            Optional<Measure> measure,
            Optional<Duration> untilLimit,
            String summary) {
        Optional<LimitExpected> limit = untilLimit.map(left -> new LimitExpected(
                now.plus(left),
                now.plus(left).minus(left.abs().multipliedBy(4).dividedBy(10)),
                now.plus(left).plus(left.abs().multipliedBy(7).dividedBy(10))));
        Finding finding = new Finding(
                Finding.idOf(machine, condition, raisedAt),
                2,
                Finding.Step.UPDATED,
                site,
                machine.startsWith("gw-") ? Optional.empty() : Optional.of(machine),
                machine.startsWith("gw-") ? Optional.of(machine) : Optional.empty(),
                condition,
                stage,
                priority,
                ago(1),
                raisedAt,
                causes,
                measure,
                limit,
                summary,
                "1",
                "standard-1",
                Inquiry.NONE,
                grounds(condition, stage));
        boolean stopped = stage == Stage.STOPPED && !machine.startsWith("gw-");
        return new AlertView(
                finding,
                priority,
                stopped ? "The site runs out of ice within a day." : "",
                ice(machine, stage),
                condition == Condition.MACHINE_SILENT
                        ? Optional.of("Nothing is heard of this machine, while its gateway is.")
                        : Optional.empty(),
                siteName,
                AlertState.UNACKNOWLEDGED,
                1,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                condition.isCare() ? Optional.empty() : Optional.of(FakeCases.idOf(site, machine)),
                FakeAdvice.about(condition, limit.map(LimitExpected::early)),
                List.of(new AlertView.AuditLine(raisedAt, "Rimecast", "raised it", "")));
    }

    private static List<Ground> changed(String feature, double material, String unit) {
        return List.of(
                new Ground("features." + feature + ".material", material, unit, Ground.Source.MODEL_GROUP),
                new Ground("change.false_alarms_per_machine_year", 0.1, "", Ground.Source.STANDARD),
                new Ground("change.beyond_unsure", 3, "", Ground.Source.STANDARD));
    }

    private static List<Ground> grounds(Condition condition, Stage stage) {
        return switch (condition) {
            case RISING_CONDENSING_TEMPERATURE -> changed("split", 1.5, "K");
            case SLOW_PULL_DOWN ->
                stage == Stage.EARLY
                        ? changed("pull_down", 0.2, "/")
                        : List.of(new Ground("limits.pull_down_seconds", 840, "s", Ground.Source.REGISTER));
            case STOPPED_BY_PROTECTION -> List.of(new Ground("detector.stops_a_day", 3, "", Ground.Source.DETECTOR));
            default -> List.of();
        };
    }

    /** A slow change is raised early, whatever it has come to by now. */
    static Finding asRaised(Finding latest) {
        if (latest.stage() != Stage.AT_LIMIT || latest.grounds().isEmpty()) {
            return latest;
        }
        return new Finding(
                latest.id(),
                1,
                Finding.Step.RAISED,
                latest.site(),
                latest.machine(),
                latest.gateway(),
                latest.condition(),
                Stage.EARLY,
                Priority.LOW,
                latest.raisedAt(),
                latest.raisedAt(),
                List.of(),
                Optional.of(new Measure("pull-down", "s", 611, OptionalDouble.of(468), OptionalDouble.of(840))),
                Optional.empty(),
                "Pull-down to 0 °C takes 611 s, 31 % longer than the 468 s that this machine should take in these conditions.",
                latest.detectorVersion(),
                latest.policyVersion(),
                Inquiry.NONE,
                changed("pull_down", 0.2, "/"));
    }

    static ProbableCause cause(Cause cause, double probability, List<String> evidenceFor, List<String> against) {
        return new ProbableCause(cause, probability, evidenceFor, against);
    }

    static Optional<Measure> measure(String quantity, String unit, double value, double expected, double limit) {
        return Optional.of(new Measure(quantity, unit, value, OptionalDouble.of(expected), OptionalDouble.of(limit)));
    }

    /** As somebody saw it. */
    static AlertView seen(AlertView alert, String who, Instant at, String note) {
        AlertState after = switch (alert.state()) {
            case RETURNED_UNACKNOWLEDGED -> AlertState.NORMAL;
            case LATCHED_UNACKNOWLEDGED -> AlertState.LATCHED_ACKNOWLEDGED;
            default -> AlertState.ACKNOWLEDGED;
        };
        AlertView.AuditLine line = new AlertView.AuditLine(at, who, "marked it as seen", note);
        return with(alert, after, alert.clearedAt(), Optional.of(who), Optional.of(at), Optional.empty(), line);
    }

    /** As the machine cleared it. */
    static AlertView over(AlertView alert, Instant at) {
        boolean seen = alert.state() == AlertState.ACKNOWLEDGED;
        AlertView.AuditLine line = new AlertView.AuditLine(at, "Rimecast", "returned to normal", "");
        return with(
                alert,
                seen ? AlertState.NORMAL : AlertState.RETURNED_UNACKNOWLEDGED,
                Optional.of(at),
                alert.acknowledgedBy(),
                alert.acknowledgedAt(),
                Optional.empty(),
                line);
    }

    /** As the machine cleared it, of a kind that must be reset. */
    static AlertView latched(AlertView alert, Instant at) {
        AlertView.AuditLine line = new AlertView.AuditLine(at, "Rimecast", "latched", "");
        return with(
                alert,
                AlertState.LATCHED_UNACKNOWLEDGED,
                Optional.of(at),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                line);
    }

    static boolean isLatched(AlertView alert) {
        return alert.state() == AlertState.LATCHED_UNACKNOWLEDGED || alert.state() == AlertState.LATCHED_ACKNOWLEDGED;
    }

    /** As somebody says that it is mended. */
    static AlertView reset(AlertView alert, String who, Instant at, String note) {
        boolean seen = alert.state() == AlertState.LATCHED_ACKNOWLEDGED;
        return with(
                alert,
                seen ? AlertState.NORMAL : AlertState.RETURNED_UNACKNOWLEDGED,
                alert.clearedAt(),
                alert.acknowledgedBy(),
                alert.acknowledgedAt(),
                Optional.empty(),
                new AlertView.AuditLine(at, who, "reset", note));
    }

    /** As an answer or a question changes what is thought of it. */
    static AlertView weighed(AlertView alert, List<ProbableCause> causes, Inquiry inquiry) {
        Finding known = alert.finding();
        Finding finding = new Finding(
                known.id(),
                known.revision() + 1,
                Finding.Step.UPDATED,
                known.site(),
                known.machine(),
                known.gateway(),
                known.condition(),
                known.stage(),
                known.priority(),
                known.at(),
                known.raisedAt(),
                causes,
                known.measure(),
                known.limit(),
                known.summary(),
                known.detectorVersion(),
                known.policyVersion(),
                inquiry,
                known.grounds());
        return new AlertView(
                finding,
                alert.priority(),
                alert.priorityWhy(),
                alert.ice(),
                alert.silence(),
                alert.siteName(),
                alert.state(),
                alert.version() + (inquiry.given().isEmpty() ? 0 : 1),
                alert.clearedAt(),
                alert.acknowledgedBy(),
                alert.acknowledgedAt(),
                alert.assignee(),
                alert.hold(),
                alert.caseId(),
                alert.advice(),
                alert.audit());
    }

    private static Optional<SiteIce> ice(String machine, Stage stage) {
        if (machine.startsWith("gw-") || stage == Stage.EARLY) {
            return Optional.empty();
        }
        return Optional.of(
                stage == Stage.STOPPED
                        ? new SiteIce(
                                Clocks.Ice.SHORT,
                                "The site runs out of ice on Friday 8 May 18:10 (between Friday 8 May 14:00 and Friday 8 May 23:30),"
                                        + " 38 kg short in the 24 hours after.")
                        : new SiteIce(
                                Clocks.Ice.NOT_KNOWN,
                                "Not known when the site runs out of ice: what is taken from " + machine
                                        + " is not learned yet."));
    }

    /** As somebody gives it to somebody, or to nobody. */
    static AlertView assigned(AlertView alert, String who, Instant at, Action.Assign action) {
        String what = action.assignee().isPresent() ? "assigned" : "unassigned";
        String why =
                action.assignee().map("to "::concat).orElse("") + (action.note().isEmpty() ? "" : ": " + action.note());
        return with(alert, alert.version() + 1, action.assignee(), new AlertView.AuditLine(at, who, what, why));
    }

    /** As somebody puts it into another case. */
    static AlertView moved(AlertView alert, String who, Instant at, UUID to, String why) {
        AlertView.AuditLine line = new AlertView.AuditLine(at, who, "put into another case", why);
        AlertView noted = with(alert, alert.version() + 1, alert.assignee(), line);
        return new AlertView(
                noted.finding(),
                noted.priority(),
                noted.priorityWhy(),
                noted.ice(),
                noted.silence(),
                noted.siteName(),
                noted.state(),
                noted.version(),
                noted.clearedAt(),
                noted.acknowledgedBy(),
                noted.acknowledgedAt(),
                noted.assignee(),
                noted.hold(),
                Optional.of(to),
                noted.advice(),
                noted.audit());
    }

    /** With a note in its history. */
    static AlertView noted(AlertView alert, String who, Instant at, String text) {
        return with(alert, alert.version(), alert.assignee(), new AlertView.AuditLine(at, who, "noted", text));
    }

    private static AlertView with(AlertView alert, long version, Optional<String> assignee, AlertView.AuditLine line) {
        return new AlertView(
                alert.finding(),
                alert.priority(),
                alert.priorityWhy(),
                alert.ice(),
                alert.silence(),
                alert.siteName(),
                alert.state(),
                version,
                alert.clearedAt(),
                alert.acknowledgedBy(),
                alert.acknowledgedAt(),
                assignee,
                alert.hold(),
                alert.caseId(),
                alert.advice(),
                Stream.concat(alert.audit().stream(), Stream.of(line)).toList());
    }

    /** As something holds it, or as it is released. */
    static AlertView held(AlertView alert, Optional<Hold> hold, Instant at, String who, String why) {
        AlertState after = hold.map(h -> h.kind().state()).orElse(AlertState.UNACKNOWLEDGED);
        AlertView.AuditLine line = new AlertView.AuditLine(at, who, after.code(), why);
        return with(alert, after, Optional.empty(), Optional.empty(), Optional.empty(), hold, line);
    }

    private static AlertView with(
            AlertView alert,
            AlertState state,
            Optional<Instant> clearedAt,
            Optional<String> acknowledgedBy,
            Optional<Instant> acknowledgedAt,
            Optional<Hold> hold,
            AlertView.AuditLine line) {
        List<AlertView.AuditLine> audit = new java.util.ArrayList<>(alert.audit());
        audit.add(line);
        return new AlertView(
                alert.finding(),
                alert.priority(),
                alert.priorityWhy(),
                alert.ice(),
                alert.silence(),
                alert.siteName(),
                state,
                alert.version() + 1,
                clearedAt,
                acknowledgedBy,
                acknowledgedAt,
                alert.assignee(),
                hold,
                alert.caseId(),
                alert.advice(),
                List.copyOf(audit));
    }
}
