package dev.rimecast.analytics.care;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import java.util.Locale;

/**
 * A machine that runs again after it has stood unused. Water that has stood for a week makes an outlet a little-used one
 * (UK HSE, HSG274 Part 2: flush weekly); an ice machine is then cleaned and its first batches are thrown away [common
 * practice]. Gaps in the readings are not counted: nobody knows what the machine did.
 */
final class Idleness {
    private static final double DAY_MILLIS = 86_400_000;
    private static final long GAP_MILLIS = 60 * 60_000L;
    private static final long NONE = Long.MIN_VALUE;

    private long cycleAt = NONE;
    private long careAt = NONE;
    private long newest = NONE;
    private long unknownMillis;
    private int batches;

    void heard(long millis) {
        if (newest != NONE && millis - newest > GAP_MILLIS) {
            unknownMillis += millis - newest;
        }
        newest = Math.max(newest, millis);
    }

    void cycle(long startMillis, long endMillis, RuleContext context) {
        // Cleaned before it was used again: nothing is left to say.
        long since = Math.max(cycleAt, careAt);
        double days = cycleAt == NONE ? 0 : (startMillis - since - unknownMillis) / DAY_MILLIS;
        cycleAt = endMillis;
        unknownMillis = 0;
        if (days >= context.policy().get(PolicyNumber.IDLE_DAYS)) {
            batches = 0;
            String text = String.format(
                    Locale.ROOT,
                    "The machine makes ice again after %.0f days without use. Ice is food: clean it, and throw the first"
                            + " batches away.",
                    days);
            context.report(
                    Condition.RESTART_AFTER_IDLE,
                    endMillis,
                    Assessment.of(Stage.AT_LIMIT, Priority.LOW, text, PolicyNumber.IDLE_DAYS));
        } else if (context.isOpen(Condition.RESTART_AFTER_IDLE)) {
            batches++;
            if (batches >= context.policy(Condition.RESTART_AFTER_IDLE).get(PolicyNumber.IDLE_BATCHES)) {
                context.clear(
                        Condition.RESTART_AFTER_IDLE,
                        endMillis,
                        "The machine has made " + batches + " batches since it was used again.");
            }
        }
    }

    void happened(EventKind kind, long millis, RuleContext context) {
        if (kind == EventKind.CLEANED || kind == EventKind.VISIT) {
            careAt = millis;
            context.clear(Condition.RESTART_AFTER_IDLE, millis, "The machine was cleaned or visited.");
        } else if (kind == EventKind.EXCHANGED) {
            cycleAt = NONE;
        }
    }

    void save(StateWriter out) {
        out.time(cycleAt).time(careAt).time(newest).whole(unknownMillis).whole(batches);
    }

    static Idleness restore(StateReader in) {
        Idleness idleness = new Idleness();
        idleness.cycleAt = in.time();
        idleness.careAt = in.time();
        idleness.newest = in.time();
        idleness.unknownMillis = in.whole();
        idleness.batches = in.wholeInt();
        return idleness;
    }
}
