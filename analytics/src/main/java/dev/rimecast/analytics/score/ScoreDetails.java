package dev.rimecast.analytics.score;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.NamedCause;
import java.util.Locale;
import java.util.stream.Collectors;

/** Each fault and each false alarm on a line of its own, for who wants to know which ones. */
public final class ScoreDetails {
    private ScoreDetails() {}

    public static String of(Score score, FittingConditions fitting) {
        StringBuilder page = new StringBuilder();
        for (FaultResult fault : score.faults()) {
            page.append(line(fault, fitting)).append('\n');
        }
        for (AlertRow alert : score.falseAlarms().alarms()) {
            page.append("false    ").append(alertLine(alert)).append('\n');
        }
        for (Score.Beside beside : score.besideTheFault()) {
            page.append("beside   ")
                    .append(beside.cause().code())
                    .append(": ")
                    .append(alertLine(beside.alert()))
                    .append('\n');
        }
        return page.toString();
    }

    private static String line(FaultResult fault, FittingConditions fitting) {
        String what = fault.isFound() ? "found    " : fault.first().isPresent() ? "late     " : "missed   ";
        String when = fault.first()
                .map(alert -> String.format(
                        Locale.ROOT,
                        "%s %s after %.1f h%s",
                        alert.condition().code(),
                        alert.stage().code(),
                        fault.delayHours().orElse(0.0),
                        fault.leadShare()
                                .map(lead -> String.format(Locale.ROOT, ", lead %.2f", lead))
                                .orElse("")))
                .orElse("no alert");
        String ran = fault.ran()
                .map(r -> String.format(Locale.ROOT, ", %d cycles, %.1f h of running", r.cycles(), r.hours()))
                .orElse("");
        String named = fault.named().stream().limit(3).map(ScoreDetails::cause).collect(Collectors.joining(", "));
        String right = fault.isFound() && !Named.isRight(fault, fitting) ? "  WRONG CAUSE" : "";
        return String.format(
                Locale.ROOT,
                "%s%s %s from %s to %s: %s%s; named %s%s",
                what,
                fault.machine(),
                fault.cause().code(),
                fault.onset(),
                fault.deadline(),
                when,
                ran,
                named.isEmpty() ? "nothing" : named,
                right);
    }

    private static String cause(NamedCause named) {
        return String.format(Locale.ROOT, "%s %.2f", named.cause().code(), named.probability());
    }

    private static String alertLine(AlertRow alert) {
        return String.format(
                Locale.ROOT,
                "%s %s %s %s: %s",
                alert.raisedAt(),
                alert.machine().orElse("-"),
                alert.condition().code(),
                alert.stage().code(),
                alert.summary());
    }
}
