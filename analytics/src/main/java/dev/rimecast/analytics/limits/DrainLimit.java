package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * Level signals over their limit: one is worth a note, two in a row mean that the water does not get away; over again once
 * {@value #GOOD_LEVELS} in a row were within it and {@value #QUIET_MILLIS} ms have passed, so that a drain that is over now
 * and then is one finding and not many.
 */
public final class DrainLimit {
    private static final int GOOD_LEVELS = 12;
    private static final long QUIET_MILLIS = 4 * 86_400_000L;
    private static final int IN_A_ROW = 2;
    /** No tank empties for so long, whatever its limit: the water stands in it. */
    private static final double STANDING_SECONDS = 60;

    private int row;
    private boolean over;
    private boolean repeated;
    private int good;
    private double latestSeconds;
    private long latestAt;

    /** Takes the length of a level signal; returns whether it changes what is to be said. */
    public boolean level(double seconds, long millis, double limitSeconds) {
        if (seconds > limitSeconds) {
            boolean isCertain = row + 1 >= IN_A_ROW || seconds >= STANDING_SECONDS;
            boolean isNews = !over || (!repeated && isCertain);
            latestSeconds = seconds;
            latestAt = millis;
            good = 0;
            row++;
            over = true;
            repeated |= isCertain;
            return isNews;
        }
        row = 0;
        good++;
        if (over && good >= GOOD_LEVELS && millis - latestAt >= QUIET_MILLIS) {
            over = false;
            repeated = false;
            return true;
        }
        return false;
    }

    /** What made signals too long was put right, and cycles have shown it. */
    public void forget() {
        row = 0;
        over = false;
        repeated = false;
    }

    /** Whether one signal was over the limit lately. */
    public boolean isOver() {
        return over;
    }

    /** Whether the last one that was over it was of water that does not get away at all. */
    public boolean isStanding() {
        return over && latestSeconds >= STANDING_SECONDS;
    }

    /** Whether at least two in a row were, or one did not end. */
    public boolean isRepeated() {
        return repeated;
    }

    public double latestSeconds() {
        return latestSeconds;
    }

    public void save(StateWriter out) {
        out.whole(row).flag(over).flag(repeated).whole(good).real(latestSeconds).time(latestAt);
    }

    public static DrainLimit restore(StateReader in) {
        DrainLimit limit = new DrainLimit();
        limit.row = in.wholeInt();
        limit.over = in.flag();
        limit.repeated = in.flag();
        limit.good = in.wholeInt();
        limit.latestSeconds = in.real();
        limit.latestAt = in.time();
        return limit;
    }
}
