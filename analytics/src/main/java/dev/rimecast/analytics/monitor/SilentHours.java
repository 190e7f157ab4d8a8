package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * The hours of the day in which a machine is usually silent, since somebody switches it off every night: those in which nothing
 * was heard on at least {@value #USUAL_DAYS} of the last {@value #DAYS} days [common practice]. Hours of UTC; after a change of the clocks a habit is an hour
 * off for some days, which an hour on either side bears.
 */
final class SilentHours {
    private static final int DAYS = 7;
    private static final int USUAL_DAYS = 5;
    private static final int HOURS = 24;
    private static final long HOUR_MILLIS = 3_600_000;
    private static final long LONGEST_HOURS = DAYS * HOURS;
    /** Whoever is silent for longer has been switched off, or was lost: no habit. */
    private static final long MOST_MILLIS = 4 * HOURS * 3_600_000L;

    /** For each of the last days a bit for each hour that was silent from end to end; the newest day is at {@code day % DAYS}. */
    private final int[] silent = new int[DAYS];

    private long day;

    /** A reading has come; the one before it may be none ({@link Long#MIN_VALUE}). */
    void heard(long beforeMillis, long millis) {
        if (beforeMillis < 0 || millis - beforeMillis <= HOUR_MILLIS || millis - beforeMillis > MOST_MILLIS) {
            return;
        }
        long first = Math.floorDiv(beforeMillis, HOUR_MILLIS) + 1;
        long end = Math.floorDiv(millis, HOUR_MILLIS);
        if (end <= first) {
            return;
        }
        for (long hour = Math.max(first, end - LONGEST_HOURS); hour < end; hour++) {
            at(Math.floorDiv(hour, HOURS));
            silent[(int) Math.floorMod(day, (long) DAYS)] |= 1 << Math.floorMod(hour, HOURS);
        }
    }

    private void at(long newDay) {
        for (; day < newDay; day = Math.max(day + 1, newDay - DAYS)) {
            silent[(int) Math.floorMod(day + 1, (long) DAYS)] = 0;
        }
    }

    /** Whether it is usually silent at this time, or was an hour before. */
    boolean isUsual(long millis) {
        long hour = Math.floorDiv(millis, HOUR_MILLIS);
        return days(hour) >= USUAL_DAYS || days(hour - 1) >= USUAL_DAYS || days(hour + 1) >= USUAL_DAYS;
    }

    private int days(long hour) {
        long of = Math.floorDiv(hour, HOURS);
        int bit = 1 << Math.floorMod(hour, HOURS);
        int days = 0;
        for (long back = of - DAYS; back < of; back++) {
            boolean isKept = back <= day && back > day - DAYS;
            days += isKept && (silent[(int) Math.floorMod(back, (long) DAYS)] & bit) != 0 ? 1 : 0;
        }
        return days;
    }

    void save(StateWriter out) {
        int any = 0;
        for (int hours : silent) {
            any |= hours;
        }
        out.flag(any != 0);
        if (any != 0) {
            out.whole(day);
            for (int hours : silent) {
                out.u8(hours >> 16).u8(hours >> 8).u8(hours);
            }
        }
    }

    static SilentHours restore(StateReader in) {
        SilentHours hours = new SilentHours();
        if (in.flag()) {
            hours.day = in.whole();
            for (int i = 0; i < DAYS; i++) {
                hours.silent[i] = in.u8() << 16 | in.u8() << 8 | in.u8();
            }
        }
        return hours;
    }
}
