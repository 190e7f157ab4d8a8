package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;

/**
 * A machine that is not heard although its gateway is. Silence is counted in ticks of the log, so that an outage of ours
 * raises nothing; the time of the finding is that of the last reading and the minutes allowed after it, so that it does not
 * depend on when the ticks came. A machine that is switched off every night is silent once it should have been heard again.
 */
final class Silence {
    private static final long MINUTE_MILLIS = 60_000;

    private Silence() {}

    /** Returns whether the finding was raised. */
    static boolean tick(long silentTicks, long newestMillis, SilentHours usual, RuleContext context) {
        long allowed = Math.round(context.policy().get(PolicyNumber.MACHINE_SILENT_MINUTES));
        if (silentTicks < allowed || context.isOpen(Condition.MACHINE_SILENT)) {
            return false;
        }
        long now = newestMillis + silentTicks * MINUTE_MILLIS;
        if (usual.isUsual(now)) {
            return false;
        }
        long due = newestMillis + allowed * MINUTE_MILLIS;
        long at = usual.isUsual(due) ? now : due;
        long minutes = (at - newestMillis) / MINUTE_MILLIS;
        String text = "Nothing has been heard of the machine for " + minutes + " minutes, while its gateway is heard.";
        context.report(
                Condition.MACHINE_SILENT,
                at,
                Assessment.of(Stage.STOPPED, Priority.MEDIUM, text, PolicyNumber.MACHINE_SILENT_MINUTES)
                        .causes(List.of(new ProbableCause(
                                Cause.POWER_OFF,
                                0.6,
                                List.of("The gateway speaks, the machine behind it does not."),
                                List.of()))));
        return true;
    }

    static void heard(long millis, RuleContext context) {
        if (context.isOpen(Condition.MACHINE_SILENT)) {
            context.clear(Condition.MACHINE_SILENT, millis, "The machine is heard again.");
        }
    }
}
