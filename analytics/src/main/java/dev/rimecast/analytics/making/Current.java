package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * What the current of the whole machine says of it, held against what it draws when it makes ice: nothing where it has no power, a
 * little where it waits, and what a pump and a fan draw where it would freeze but its compressor does not run. A cleaning draws as much,
 * once; a machine that tries to start does so again and again.
 */
final class Current {
    /** Whether the machine has power, by its current. */
    enum Power {
        UNKNOWN,
        OFF,
        ON
    }

    /** A controller and its lamps. */
    private static final double POWERED_SHARE = 0.005;
    /** Of a machine that runs, pump and fan draw more than the least and its compressor more than the most [common practice]. */
    private static final double LEAST_SHARE = 0.03;

    private static final double MOST_SHARE = 0.35;

    private static final int TRIES = 3;
    private static final long TRY_MILLIS = 8 * 60_000L;
    private static final long GAP_MILLIS = 15 * 60_000L;
    private static final long FORGOTTEN_MILLIS = 6 * 3_600_000L;
    private static final double GAIN = 0.1;
    private static final long NONE = Long.MIN_VALUE;

    private float running;
    private float peak;
    private float newest;
    private long newestAt = NONE;
    private long littleSince = NONE;
    private boolean isCounted;
    /** Whether its clamp was ever seen to tell what a controller draws: many read nothing there. */
    private boolean drawsAtRest;

    private int tries;
    private long triedAt = NONE;

    /** Takes a reading, A; returns whether it shows just now that the compressor does not start. */
    boolean read(double ampere, long millis) {
        boolean isGap = newestAt == NONE || millis - newestAt > GAP_MILLIS;
        newest = (float) ampere;
        newestAt = millis;
        peak = Math.max(peak, newest);
        boolean isRun = ampere > MOST_SHARE * running;
        boolean isLittle = running > 0 && !isRun && ampere >= LEAST_SHARE * running;
        drawsAtRest |= running > 0 && !isRun && !isLittle && ampere >= POWERED_SHARE * running;
        if (!isLittle) {
            littleSince = NONE;
            isCounted = false;
            tries = isRun ? 0 : tries;
            return false;
        }
        // What goes on behind a gap may be the same try: it counts once, and from here on.
        if (isGap || littleSince == NONE) {
            littleSince = millis;
        }
        if (isCounted || millis - littleSince < TRY_MILLIS) {
            return false;
        }
        isCounted = true;
        tries = triedAt == NONE || millis - triedAt > FORGOTTEN_MILLIS ? 1 : tries + 1;
        triedAt = millis;
        return tries >= TRIES;
    }

    /** A cycle was finished. */
    void cycle() {
        if (peak > 0) {
            running = running == 0 ? peak : running + (float) GAIN * (peak - running);
        }
        peak = 0;
        tries = 0;
    }

    /** What it drew last, A. */
    double ampere() {
        return newest;
    }

    /** What it draws when it makes ice, at most in a cycle, A; 0 where that is not known. */
    double runningAmpere() {
        return running;
    }

    /** Whether the compressor has not started in its last tries. */
    boolean isNotStarting() {
        return tries >= TRIES;
    }

    Power power(long millis) {
        if (running == 0 || newestAt == NONE || millis - newestAt > GAP_MILLIS) {
            return Power.UNKNOWN;
        }
        if (newest >= POWERED_SHARE * running) {
            return Power.ON;
        }
        return drawsAtRest ? Power.OFF : Power.UNKNOWN;
    }

    void save(StateWriter out) {
        out.time(newestAt);
        if (newestAt != NONE) {
            out.real32(running)
                    .real32(peak)
                    .real32(newest)
                    .time(littleSince)
                    .flag(isCounted)
                    .flag(drawsAtRest);
            out.u8(Math.min(tries, TRIES)).time(triedAt);
        }
    }

    static Current restore(StateReader in) {
        Current current = new Current();
        current.newestAt = in.time();
        if (current.newestAt != NONE) {
            current.running = in.real32();
            current.peak = in.real32();
            current.newest = in.real32();
            current.littleSince = in.time();
            current.isCounted = in.flag();
            current.drawsAtRest = in.flag();
            current.tries = in.u8();
            current.triedAt = in.time();
        }
        return current;
    }
}
