package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;

/**
 * The time since a machine last finished a cycle, and what it did in it. A gap in the readings of more than
 * {@value #GAP_MILLIS} ms begins it anew: what was not seen is not counted. A full bin on both sides of a gap of {@value #LONGEST_GAP_MILLIS} ms at most, and a quarter of
 * the rest before it, goes on without the time of the gap.
 */
final class Pause {
    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final long LONGEST_GAP_MILLIS = 2 * 3_600_000L;
    private static final double SHARE_OF_REST = 0.25;
    private static final double HOUR_MILLIS = 3_600_000;
    private static final long NONE = Long.MIN_VALUE;

    private final long[] millisOf = new long[Doing.count()];
    private long newest = NONE;
    private Doing doing = Doing.MAKING;
    /** Since when it does what it does, as far back as the pause. */
    private long doingSince = NONE;

    /** Time has passed up to a reading that says what the machine does. */
    void pass(Doing now, long millis) {
        long passed = newest == NONE ? 0 : millis - newest;
        newest = millis;
        if (passed > GAP_MILLIS) {
            if (now == Doing.FULL && doing == Doing.FULL && isShortBesideTheRest(passed)) {
                doingSince += passed;
            } else {
                begin(now, millis);
            }
            return;
        }
        millisOf[doing.ordinal()] += passed;
        if (now != doing || doingSince == NONE) {
            doing = now;
            doingSince = millis;
        }
    }

    /** A bin that was said to be full for hours, and is so again after a gap that is short beside them, has hardly been emptied and filled in it. */
    private boolean isShortBesideTheRest(long gapMillis) {
        return gapMillis <= LONGEST_GAP_MILLIS && gapMillis <= SHARE_OF_REST * millisOf[Doing.FULL.ordinal()];
    }

    /** A cycle is over, or something else from which on time counts anew. */
    void begin(long millis) {
        begin(doing, millis);
    }

    private void begin(Doing now, long millis) {
        Arrays.fill(millisOf, 0);
        doing = now;
        doingSince = millis;
    }

    Doing doing() {
        return doing;
    }

    /** Time in which the machine has done this, h. */
    double hours(Doing what) {
        return millisOf[what.ordinal()] / HOUR_MILLIS;
    }

    /** Time in which it neither worked nor was cleaned, h. */
    double restHours() {
        return hours() - hours(Doing.MAKING) - hours(Doing.REDUCED) - hours(Doing.CLEANING);
    }

    /** Whole length, h. */
    double hours() {
        long sum = 0;
        for (long millis : millisOf) {
            sum += millis;
        }
        return sum / HOUR_MILLIS;
    }

    /** For how long it has done without a break what it does now, h. */
    double hoursOnEnd() {
        return doingSince == NONE ? 0 : (newest - doingSince) / HOUR_MILLIS;
    }

    /** When that began. */
    long doingSinceMillis() {
        return doingSince;
    }

    void save(StateWriter out) {
        out.time(newest).u8(doing.ordinal()).time(doingSince);
        for (long millis : millisOf) {
            out.whole(millis);
        }
    }

    static Pause restore(StateReader in) {
        Pause pause = new Pause();
        pause.newest = in.time();
        pause.doing = Doing.ofOrdinal(in.u8());
        pause.doingSince = in.time();
        for (int i = 0; i < pause.millisOf.length; i++) {
            pause.millisOf[i] = in.whole();
        }
        return pause;
    }
}
