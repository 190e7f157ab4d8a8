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
    private static final int KEPT = 6;
    private static final long SHORT_OFF_MILLIS = 30 * 60_000L;
    private static final long AFTER_WORK_MILLIS = 4 * 3_600_000L;
    /** A row may be a moment older than the turn that was told before it: a phase that lasted less was none. */
    private static final long SETTLED_MILLIS = 30_000;

    /** From this layout of a machine's state on it says since when its phase is. */
    private static final int WITH_SINCE = 16;

    private static final long NONE = Long.MIN_VALUE;

    /** The last ones, oldest first. */
    private final long[] times = new long[KEPT];

    /** Of those that were held against what the neighbours did: whether most of the site restarted with it. */
    private final boolean[] ofSite = new boolean[KEPT];

    private int count;
    /** So many of them, from the oldest, were held against that. */
    private int judged;

    private Phase phase = Phase.OFF;
    private long phaseSince = NONE;
    private boolean isKnown;
    private Phase beforeOff = Phase.OFF;
    private long offSince = NONE;
    private boolean startsByFilling;
    private long workAt = NONE;

    void phase(Phase now, long millis) {
        Phase before = phase;
        phase = now;
        if (!isKnown || now == before) {
            phaseSince = isKnown ? phaseSince : millis;
            isKnown = true;
            return;
        }
        boolean wasSettled = millis - phaseSince >= SETTLED_MILLIS;
        phaseSince = millis;
        startsByFilling |= before == Phase.STOPPED && now == Phase.FILL;
        if (now == Phase.OFF) {
            beforeOff = before;
            offSince = millis;
        } else if (before == Phase.OFF) {
            boolean isShort = offSince != NONE && millis - offSince <= SHORT_OFF_MILLIS;
            if (isShort && beforeOff != Phase.CLEAN && now != Phase.CLEAN) {
                add(millis);
            }
        } else if (wasSettled && isSentBack(before, now)) {
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
            System.arraycopy(times, 1, times, 0, KEPT - 1);
            System.arraycopy(ofSite, 1, ofSite, 0, KEPT - 1);
            count--;
            judged = Math.max(0, judged - 1);
        }
        ofSite[count] = false;
        times[count++] = millis;
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

    /** Whether what {@link #unjudged} has said was the site's power, and not by hand. */
    void judge(boolean isOfSite) {
        ofSite[judged++] = isOfSite;
    }

    /** How many were by hand since a time. */
    int since(long millis) {
        int found = 0;
        for (int i = 0; i < judged; i++) {
            found += isByHandSince(i, millis) ? 1 : 0;
        }
        return found;
    }

    /** Time from the first to the last that was by hand since a time, ms. */
    long span(long millis) {
        long first = NONE;
        long last = NONE;
        for (int i = 0; i < judged; i++) {
            if (isByHandSince(i, millis)) {
                first = first == NONE ? times[i] : first;
                last = times[i];
            }
        }
        return first == NONE ? 0 : last - first;
    }

    private boolean isByHandSince(int index, long millis) {
        return !ofSite[index] && times[index] >= millis;
    }

    void save(StateWriter out) {
        out.u8(count).u8(judged);
        for (int i = 0; i < count; i++) {
            out.whole(times[i]).flag(ofSite[i]);
        }
        out.u8(phase.ordinal()).flag(isKnown).u8(beforeOff.ordinal()).time(offSince);
        out.flag(startsByFilling).time(workAt).time(phaseSince);
    }

    static Restarts restore(StateReader in) {
        Restarts restarts = new Restarts();
        restarts.count = in.u8();
        restarts.judged = in.u8();
        for (int i = 0; i < restarts.count; i++) {
            restarts.times[i] = in.whole();
            restarts.ofSite[i] = in.flag();
        }
        restarts.phase = Phase.ofOrdinal(in.u8());
        restarts.isKnown = in.flag();
        restarts.beforeOff = Phase.ofOrdinal(in.u8());
        restarts.offSince = in.time();
        restarts.startsByFilling = in.flag();
        restarts.workAt = in.time();
        restarts.phaseSince = in.hasLayout(WITH_SINCE) ? in.time() : 0;
        return restarts;
    }
}
