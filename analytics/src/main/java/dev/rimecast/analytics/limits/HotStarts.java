package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.finding.Assessment;
import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.util.List;
import java.util.Locale;
import java.util.function.Supplier;

/**
 * Starts that end at the limit of the condensing temperature, of a machine that does not say so: within minutes the condenser runs up to near
 * its limit and falls again as fast, where in a freeze it falls slowly. A machine that is read once a minute is seldom seen at the limit itself. Once may be a
 * door or a hot pan; {@value #STARTS} of them within {@value #TOGETHER_MILLIS} ms without a cycle are a machine that cannot get rid of its heat.
 */
public final class HotStarts {
    private static final int STARTS = 2;
    private static final long TOGETHER_MILLIS = 4 * 3_600_000L;

    private static final double NEAR_KELVIN = 12;
    private static final double RISES_KELVIN = 15;
    /** A controller tries again while the condenser is hot still. */
    private static final double RISES_AGAIN_KELVIN = 10;

    private static final double FALLS_KELVIN = 5;
    /** What a condenser moves by that only follows its room, and its sensor's noise: a rise begins where that ends. */
    private static final double AT_REST_KELVIN = 1.5;

    private static final long RISES_WITHIN_MILLIS = 10 * 60_000L;
    private static final long FALLS_WITHIN_MILLIS = 6 * 60_000L;
    private static final long GAP_MILLIS = 10 * 60_000L;
    private static final Threshold DECIDES = new Threshold.BuiltIn("hot_starts", STARTS, "");
    private static final long NONE = Long.MIN_VALUE;

    private long newest = NONE;
    private float lowest;
    private long lowestAt = NONE;
    private float highest;
    private long highestAt = NONE;
    private int starts;
    private long startAt = NONE;

    /**
     * A reading of the condenser.
     *
     * @param causes of the heat, asked for only when it is needed
     * @return whether it has been said just now
     */
    public boolean condenser(double celsius, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        boolean isGap = newest == NONE || millis - newest > GAP_MILLIS;
        newest = millis;
        boolean isAtRest = highest - lowest <= AT_REST_KELVIN && celsius - lowest <= AT_REST_KELVIN;
        boolean isSlow = highest - lowest < FALLS_KELVIN && millis - lowestAt > RISES_WITHIN_MILLIS;
        if (isGap || celsius <= lowest || isSlow) {
            begin(celsius, millis);
        } else if (isAtRest) {
            highest = Math.max(highest, (float) celsius);
            lowestAt = millis;
            highestAt = millis;
        } else if (celsius > highest) {
            highest = (float) celsius;
            highestAt = millis;
        } else if (celsius <= highest - FALLS_KELVIN) {
            boolean isHot = isHotStart(millis, context.limits().condensingCelsius());
            float reached = highest;
            begin(celsius, millis);
            return isHot && counts(millis) && say(reached, millis, context, causes);
        }
        return false;
    }

    private void begin(double celsius, long millis) {
        lowest = (float) celsius;
        lowestAt = millis;
        highest = lowest;
        highestAt = millis;
    }

    private boolean isHotStart(long millis, double limitCelsius) {
        return millis - highestAt <= FALLS_WITHIN_MILLIS
                && highest - lowest >= (isAgain(millis) ? RISES_AGAIN_KELVIN : RISES_KELVIN)
                && highest >= limitCelsius - NEAR_KELVIN
                && highestAt - lowestAt <= RISES_WITHIN_MILLIS;
    }

    private boolean isAgain(long millis) {
        return startAt != NONE && millis - startAt <= TOGETHER_MILLIS;
    }

    private boolean counts(long millis) {
        starts = isAgain(millis) ? starts + 1 : 1;
        startAt = millis;
        return starts >= STARTS;
    }

    private static boolean say(double reached, long millis, RuleContext context, Supplier<List<ProbableCause>> causes) {
        if (context.isOpen(Condition.STOPPED_BY_PROTECTION) || context.isOpen(Condition.HIGH_CONDENSING_TEMPERATURE)) {
            return false;
        }
        String text = String.format(
                Locale.ROOT,
                "Within minutes of its start the condenser comes to %.0f °C and falls again as fast, again and again:"
                        + " the machine seems to stop at its limit of %.0f °C.",
                reached,
                context.limits().condensingCelsius());
        context.report(
                Condition.STOPPED_BY_PROTECTION,
                millis,
                Assessment.of(Stage.STOPPED, Priority.URGENT, text, DECIDES).causes(causes.get()));
        return true;
    }

    /** A cycle was finished. */
    public void completed() {
        starts = 0;
        startAt = NONE;
    }

    public void save(StateWriter out) {
        out.time(newest);
        if (newest != NONE) {
            out.real32(lowest).time(lowestAt).real32(highest).time(highestAt);
            out.u8(Math.min(starts, STARTS)).time(startAt);
        }
    }

    public static HotStarts restore(StateReader in) {
        HotStarts hot = new HotStarts();
        hot.newest = in.time();
        if (hot.newest != NONE) {
            hot.lowest = in.real32();
            hot.lowestAt = in.time();
            hot.highest = in.real32();
            hot.highestAt = in.time();
            hot.starts = in.u8();
            hot.startAt = in.time();
        }
        return hot;
    }
}
