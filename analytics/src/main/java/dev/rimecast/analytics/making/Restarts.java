package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Phase;

/**
 * Restarts by hand: switched off for at most {@value #SHORT_OFF_MILLIS} ms, or sent back to its start in the middle of its work. A
 * cleaning, a night switched off and what follows work on the machine within {@value #AFTER_WORK_MILLIS} ms are none.
 *
 * <p>A machine that its own protection has stopped starts again by itself, some by waiting and some by filling. Only one that
 * was seen to fill then is taken to be restarted when it waits.
 */
final class Restarts {
    static final int KEPT = 6;
    private static final long SHORT_OFF_MILLIS = 30 * 60_000L;
    private static final long AFTER_WORK_MILLIS = 4 * 3_600_000L;
    private static final long NONE = Long.MIN_VALUE;

    /** The last ones, oldest first. */
    private final long[] times = new long[KEPT];

    private int count;
    /** So many of them, from the oldest, have been held against what the neighbours did. */
    private int judged;

    private Phase phase = Phase.OFF;
    private boolean isKnown;
    private Phase beforeOff = Phase.OFF;
    private long offSince = NONE;
    private boolean startsByFilling;
    private long workAt = NONE;

    void phase(Phase now, long millis) {
        Phase before = phase;
        phase = now;
        if (!isKnown || now == before) {
            isKnown = true;
            return;
        }
        startsByFilling |= before == Phase.STOPPED && now == Phase.FILL;
        if (now == Phase.OFF) {
            beforeOff = before;
            offSince = millis;
        } else if (before == Phase.OFF) {
            boolean isShort = offSince != NONE && millis - offSince <= SHORT_OFF_MILLIS;
            if (isShort && beforeOff != Phase.CLEAN && now != Phase.CLEAN) {
                add(millis);
            }
        } else if (isSentBack(before, now)) {
            add(millis);
        }
    }

    private boolean isSentBack(Phase before, Phase now) {
        return switch (before) {
            case FREEZE, REDUCED -> now == Phase.WAIT || now == Phase.FILL;
            case HARVEST, FILL, IDLE -> now == Phase.WAIT;
            case STOPPED -> now == Phase.WAIT && startsByFilling;
            case WAIT, CLEAN, OFF -> false;
        };
    }

    private void add(long millis) {
        if (workAt != NONE && millis - workAt <= AFTER_WORK_MILLIS) {
            return;
        }
        if (count == KEPT) {
            remove(0);
        }
        times[count++] = millis;
    }

    private void remove(int index) {
        System.arraycopy(times, index + 1, times, index, count - index - 1);
        count--;
        judged -= index < judged ? 1 : 0;
    }

    void worked(long millis) {
        workAt = millis;
    }

    /** Whether one was so near to this time. */
    boolean isOneNear(long millis, long within) {
        for (int i = 0; i < count; i++) {
            if (Math.abs(times[i] - millis) <= within) {
                return true;
            }
        }
        return false;
    }

    /** The first that was not judged yet and is older than this, or {@link Long#MIN_VALUE}. */
    long unjudged(long olderThan) {
        return judged < count && times[judged] < olderThan ? times[judged] : NONE;
    }

    /** What {@link #unjudged} has said was by hand, or it was the site's power. */
    void judge(boolean isByHand) {
        if (isByHand) {
            judged++;
        } else {
            remove(judged);
        }
    }

    /** How many were by hand since a time. */
    int since(long millis) {
        int found = 0;
        for (int i = 0; i < judged; i++) {
            found += times[i] >= millis ? 1 : 0;
        }
        return found;
    }

    /** Time from the first to the last of them, ms. */
    long span(long since) {
        for (int i = 0; i < judged; i++) {
            if (times[i] >= since) {
                return times[judged - 1] - times[i];
            }
        }
        return 0;
    }

    void save(StateWriter out) {
        out.u8(count).u8(judged);
        for (int i = 0; i < count; i++) {
            out.whole(times[i]);
        }
        out.u8(phase.ordinal()).flag(isKnown).u8(beforeOff.ordinal()).whole(offSince);
        out.flag(startsByFilling).whole(workAt);
    }

    static Restarts restore(StateReader in) {
        Restarts restarts = new Restarts();
        restarts.count = in.u8();
        restarts.judged = in.u8();
        for (int i = 0; i < restarts.count; i++) {
            restarts.times[i] = in.whole();
        }
        restarts.phase = Phase.ofOrdinal(in.u8());
        restarts.isKnown = in.flag();
        restarts.beforeOff = Phase.ofOrdinal(in.u8());
        restarts.offSince = in.whole();
        restarts.startsByFilling = in.flag();
        restarts.workAt = in.whole();
        return restarts;
    }
}
