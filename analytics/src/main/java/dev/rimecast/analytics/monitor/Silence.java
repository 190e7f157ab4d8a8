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
 * depend on when the ticks came.
 */
final class Silence {
    private static final long MINUTE_MILLIS = 60_000;

    private Silence() {}

    /** Returns whether the finding was raised. */
    static boolean tick(long silentTicks, long newestMillis, RuleContext context) {
        long allowed = Math.round(context.policy().get(PolicyNumber.MACHINE_SILENT_MINUTES));
        if (silentTicks < allowed || context.isOpen(Condition.MACHINE_SILENT)) {
            return false;
        }
        String text = "Nothing has been heard of the machine for " + allowed + " minutes, while its gateway is heard.";
        context.report(
                Condition.MACHINE_SILENT,
                newestMillis + allowed * MINUTE_MILLIS,
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
