package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.Arrays;

/**
 * The largest of something in each of the last {@value #WEEKS} weeks, this one included: what a machine does at times
 * without anything being wrong. Weeks, since weekends and closing days come once in each. Kept in whole steps, rounded up,
 * at most {@value #MOST}.
 */
final class Habit {
    private static final int WEEKS = 6;
    private static final int MOST = 255;
    private static final long WEEK_MILLIS = 7 * 86_400_000L;
    private static final long NONE = Long.MIN_VALUE;

    private final byte[] largest = new byte[WEEKS];
    private long week = NONE;
    private int most;

    void see(double steps, long millis) {
        long number = Math.floorDiv(millis, WEEK_MILLIS);
        if (number > week) {
            int gone = week == NONE ? WEEKS : (int) Math.min(WEEKS, number - week);
            System.arraycopy(largest, gone, largest, 0, WEEKS - gone);
            Arrays.fill(largest, WEEKS - gone, WEEKS, (byte) 0);
            week = number;
        }
        int rounded = (int) Math.min(MOST, Math.ceil(steps));
        if (rounded > (largest[WEEKS - 1] & 0xFF)) {
            largest[WEEKS - 1] = (byte) rounded;
        }
        most = mostOfAll();
    }

    /** The largest of all weeks; 0 before the first. */
    int largest() {
        return most;
    }

    private int mostOfAll() {
        int found = 0;
        for (byte value : largest) {
            found = Math.max(found, value & 0xFF);
        }
        return found;
    }

    void save(StateWriter out) {
        out.flag(week != NONE);
        if (week == NONE) {
            return;
        }
        out.whole(week);
        for (byte value : largest) {
            out.u8(value & 0xFF);
        }
    }

    static Habit restore(StateReader in) {
        Habit habit = new Habit();
        if (in.flag()) {
            habit.week = in.whole();
            for (int i = 0; i < WEEKS; i++) {
                habit.largest[i] = (byte) in.u8();
            }
            habit.most = habit.mostOfAll();
        }
        return habit;
    }
}
