package dev.rimecast.analytics.sensor;

import dev.rimecast.analytics.policy.Threshold;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.List;

/**
 * Single readings that leave for more than {@value #JUMP_KELVIN} K and come back with the next, which metal and water can't
 * do: a loose plug, a broken lead. One is noise of the line; {@value #REPEATED} within {@value #WINDOW_MILLIS} ms are not.
 *
 * <p>Where readings are more than {@value #CLOSE_MILLIS} ms apart, a short harvest looks like it: then a jump must be of
 * {@value #FAR_JUMP_KELVIN} K and, upwards, reach {@value #ABOVE_HARVEST_CELSIUS} °C. More than {@value #FAR_MILLIS} ms apart nothing is
 * judged.
 */
final class Spikes {
    private static final double JUMP_KELVIN = 12;
    private static final double BACK_KELVIN = 6;
    private static final int REPEATED = 3;
    private static final long WINDOW_MILLIS = 6 * 3_600_000L;
    private static final long QUIET_MILLIS = 24 * 3_600_000L;
    private static final long CLOSE_MILLIS = 40_000;
    private static final long FAR_MILLIS = 120_000;
    private static final double FAR_JUMP_KELVIN = 20;
    private static final double ABOVE_HARVEST_CELSIUS = 30;
    /** A plate gets hot gas, a condenser its compressor's heat: neither moves so far from one reading to the next. */
    private static final double LONE_KELVIN = 25;

    private static final double FAR_LONE_KELVIN = 40;
    /** Where only changes are sent, the last reading may be an hour old. */
    private static final double RARE_LONE_KELVIN = 50;

    private static final long RARE_MILLIS = 65 * 60_000L;
    private static final long NONE = Long.MIN_VALUE;

    /** What a sensor that jumps is found by. */
    static final List<Threshold> DECIDES = List.of(
            new Threshold.BuiltIn("spike_kelvin", JUMP_KELVIN, "K"),
            new Threshold.BuiltIn("spikes_in_six_hours", REPEATED, ""));

    private double before;
    private long beforeAt = NONE;
    private double last;
    private long lastAt = NONE;
    /** Whether {@code before} and {@code last} are close enough in time. */
    private boolean isPair;

    private int count;
    private long firstAt = NONE;
    private long latestAt = NONE;

    /**
     * Whether the next reading, before it is taken, is one that stands alone: far from the last and from the one before that. A single
     * 85 °C is what a common kind of sensor says when its line fails [its data sheet, from memory]. What goes on with the next is no lone one: that is lost.
     */
    boolean isLone(double celsius, long millis) {
        long gap = millis - lastAt;
        if (lastAt == NONE || gap > RARE_MILLIS) {
            return false;
        }
        double least = gap <= CLOSE_MILLIS ? LONE_KELVIN : gap <= FAR_MILLIS ? FAR_LONE_KELVIN : RARE_LONE_KELVIN;
        boolean isBack =
                beforeAt != NONE && millis - beforeAt <= RARE_MILLIS && StrictMath.abs(celsius - before) <= least;
        return StrictMath.abs(celsius - last) > least && !isBack;
    }

    /** Takes a reading; returns whether the spikes have just become too many. */
    boolean see(double celsius, long millis) {
        boolean isJudged = lastAt != NONE && millis - lastAt <= FAR_MILLIS;
        boolean isClose = isJudged && isPair && millis - beforeAt <= 2 * CLOSE_MILLIS;
        boolean isNews = isJudged && isPair && isSpike(celsius, isClose) && counted(millis);
        isPair = isJudged;
        before = last;
        beforeAt = lastAt;
        last = celsius;
        lastAt = millis;
        return isNews;
    }

    private boolean isSpike(double celsius, boolean isClose) {
        double away = last - before;
        double back = celsius - last;
        double least = isClose ? JUMP_KELVIN : FAR_JUMP_KELVIN;
        boolean isHarvest = !isClose && away > 0 && last < ABOVE_HARVEST_CELSIUS;
        return !isHarvest
                && StrictMath.abs(away) > least
                && StrictMath.abs(back) > least
                && away * back < 0
                && StrictMath.abs(celsius - before) < BACK_KELVIN;
    }

    private boolean counted(long millis) {
        if (firstAt == NONE || millis - firstAt > WINDOW_MILLIS) {
            firstAt = millis;
            count = 0;
        }
        latestAt = millis;
        count++;
        return count == REPEATED;
    }

    /** Whether there have been none for long enough. */
    boolean isQuiet(long millis) {
        return latestAt == NONE || count < REPEATED || millis - latestAt > QUIET_MILLIS;
    }

    void save(StateWriter out) {
        out.measured(before).time(beforeAt).measured(last).time(lastAt).flag(isPair);
        out.whole(count).time(firstAt).time(latestAt);
    }

    static Spikes restore(StateReader in) {
        Spikes spikes = new Spikes();
        spikes.before = in.measured();
        spikes.beforeAt = in.time();
        spikes.last = in.measured();
        spikes.lastAt = in.time();
        spikes.isPair = in.flag();
        spikes.count = in.wholeInt();
        spikes.firstAt = in.time();
        spikes.latestAt = in.time();
        return spikes;
    }
}
