package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * Whether the plate comes to 0 °C within its limit: not, as soon as a freeze is older than the limit; again, once
 * {@value #GOOD_CYCLES} cycles in a row were well within it.
 */
public final class PullDownLimit {
    private static final int GOOD_CYCLES = 3;
    private static final double WELL_WITHIN = 0.9;
    private static final long NONE = Long.MIN_VALUE;

    private boolean beyond;
    private int good;
    private double latestSeconds;

    /**
     * Time goes by.
     *
     * @param pullingDownSince start of the freeze that has not come to 0 °C yet, or {@link Long#MIN_VALUE}
     * @return whether the limit has been passed just now
     */
    public boolean passed(long pullingDownSince, long millis, double limitSeconds) {
        boolean isOver = pullingDownSince != NONE && millis - pullingDownSince > limitSeconds * 1000;
        if (!isOver) {
            return false;
        }
        latestSeconds = (millis - pullingDownSince) / 1000.0;
        good = 0;
        boolean isNew = !beyond;
        beyond = true;
        return isNew;
    }

    /** A cycle is over. */
    public void cycle(OptionalDouble pullDownSeconds, double limitSeconds) {
        if (pullDownSeconds.isEmpty()) {
            return;
        }
        double seconds = pullDownSeconds.getAsDouble();
        if (seconds > limitSeconds) {
            beyond = true;
            good = 0;
            latestSeconds = seconds;
        } else if (seconds <= limitSeconds * WELL_WITHIN) {
            good++;
            beyond = beyond && good < GOOD_CYCLES;
        } else {
            // neither: it stays as it is, and the row of good ones is broken
            good = 0;
        }
    }

    public boolean isBeyond() {
        return beyond;
    }

    /** The pull-down that was last beyond the limit; one that still goes on counts as far as it has come. */
    public double latestSeconds() {
        return latestSeconds;
    }

    public void save(StateWriter out) {
        out.flag(beyond).whole(good).real(latestSeconds);
    }

    public static PullDownLimit restore(StateReader in) {
        PullDownLimit limit = new PullDownLimit();
        limit.beyond = in.flag();
        limit.good = in.wholeInt();
        limit.latestSeconds = in.real();
        return limit;
    }
}
