package dev.rimecast.analytics.making;

import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.PolicyNumber;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.List;

/**
 * Waits after power-on that are longer than the register's start delay, again and again, or once by far: somebody has set a longer one. A
 * machine that has always waited so long is set so, and the register does not know; that is no finding.
 */
final class LongWaits {
    private static final double ENDLESS_HOURS = 2;

    private static final double HOUR_SECONDS = 3600;
    private static final double MINUTE_SECONDS = 60;

    private static final int UNKNOWN = -1;

    /** The longest of those that were within what is allowed, s; at least the first. */
    private int usualSeconds = UNKNOWN;

    private int longInARow;

    /** A wait is over; one of 0 h where the machine starts at once after power-on. */
    void ended(double hours, RuleContext context) {
        int seconds = (int) Math.round(hours * HOUR_SECONDS);
        if (usualSeconds == UNKNOWN || seconds <= allowedSeconds(context)) {
            usualSeconds = Math.max(usualSeconds, seconds);
            longInARow = 0;
        } else {
            double far = context.policy().get(PolicyNumber.LONG_WAIT_MINUTES) * MINUTE_SECONDS;
            boolean isFar = usualSeconds != UNKNOWN && seconds > allowedSeconds(context) + far;
            longInARow =
                    isFar ? Math.max(longInARow + 1, (int) context.policy().get(PolicyNumber.WAITS)) : longInARow + 1;
        }
    }

    /** What a wait without an end is found by. */
    static final List<Threshold> ENDLESS =
            List.of(PolicyNumber.WAIT_MARGIN_MINUTES, new Threshold.BuiltIn("endless_wait_hours", ENDLESS_HOURS, "h"));

    private double allowedSeconds(RuleContext context) {
        double margin = context.policy().get(PolicyNumber.WAIT_MARGIN_MINUTES) * MINUTE_SECONDS;
        return Math.max(context.machine().startDelaySeconds(), usualSeconds) + margin;
    }

    boolean isAgainAndAgain(RuleContext context) {
        return longInARow >= context.policy().get(PolicyNumber.WAITS);
    }

    /** Whether this wait is longer than any start delay that can be set. */
    boolean isEndless(double hours, RuleContext context) {
        return hours * HOUR_SECONDS > allowedSeconds(context) + ENDLESS_HOURS * HOUR_SECONDS;
    }

    /** Somebody has complained, or it has been said: what comes from now on is judged anew. */
    void said() {
        longInARow = 0;
        usualSeconds = UNKNOWN;
    }

    void save(StateWriter out) {
        out.whole(usualSeconds).whole(longInARow);
    }

    static LongWaits restore(StateReader in) {
        LongWaits waits = new LongWaits();
        waits.usualSeconds = in.wholeInt();
        waits.longInARow = in.wholeInt();
        return waits;
    }
}
