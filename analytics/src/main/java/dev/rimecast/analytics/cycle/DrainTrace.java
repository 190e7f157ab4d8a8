package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * Drain level signals and pump runs since the last cycle ended. A level signal is timed from its edges; a gateway that
 * samples the signal shows edges that lie on its sampling steps, and those time nothing.
 */
final class DrainTrace {
    private static final long NONE = Long.MIN_VALUE;
    /** A signal that is still on after this long is reported once without waiting for its end. */
    private static final long STANDING_MILLIS = 60_000;
    /** Who tells edges, and says after a while that it is on once more, has lost the end between them. */
    private static final long LOST_END_MILLIS = 120_000;

    private static final double TIMED_WITHIN = 0.02;

    private boolean on;
    private long flagAt = NONE;
    private long step;
    private long risenAt = NONE;
    private boolean reported;
    private boolean hasLevelTimes;
    private boolean hasRunTimes;
    private int levels;
    private double levelMax;
    private int runs;
    private double runMax;

    void flag(boolean next, long millis, CycleTracker.Sink out) {
        if (hasLevelTimes) {
            // The length comes when the signal ends; only one that does not end has to be seen here.
            standing(next, millis);
            return;
        }
        long gap = flagAt == NONE ? 0 : millis - flagAt;
        boolean isSampled = step > 0 && Math.abs(gap - step) <= step * TIMED_WITHIN;
        if (next == on && flagAt != NONE) {
            if (next) {
                saidAgain(millis);
            }
            step = gap;
        } else if (next) {
            risenAt = isSampled || flagAt == NONE ? NONE : millis;
            reported = false;
        } else if (risenAt != NONE) {
            if (!isSampled && !reported) {
                add(millis, (millis - risenAt) / 1000.0, out);
            }
            risenAt = NONE;
        }
        on = next;
        flagAt = millis;
    }

    private void standing(boolean next, long millis) {
        if (next && !on) {
            risenAt = millis;
            reported = false;
        } else if (next) {
            saidAgain(millis);
            step = millis - flagAt;
        } else {
            risenAt = NONE;
        }
        on = next;
        flagAt = millis;
    }

    private void saidAgain(long millis) {
        long gap = millis - flagAt;
        boolean isSampled = step > 0 && Math.abs(gap - step) <= step * TIMED_WITHIN;
        boolean isFirst = flagAt == risenAt;
        if (risenAt != NONE && isFirst && gap > LOST_END_MILLIS && !isSampled) {
            risenAt = millis;
            reported = false;
        }
    }

    /** Whether a signal has begun whose end is not known. */
    boolean isRisen() {
        return risenAt != NONE;
    }

    /**
     * Time goes by: a signal that does not end is a finding before it ends. Of a machine that goes on meanwhile, and does not say again
     * that it is on, its end is more likely late or lost: the controller would have stopped it.
     *
     * @param isBreak whether nothing was heard for so long that it may have ended meanwhile
     * @param isStopped whether the machine says that it has stopped
     */
    void passed(long millis, boolean isBreak, boolean isStopped, CycleTracker.Sink out) {
        if (isBreak) {
            risenAt = NONE;
        }
        boolean isSure = isStopped || flagAt - risenAt >= STANDING_MILLIS;
        if (risenAt != NONE && !reported && isSure && millis - risenAt >= STANDING_MILLIS) {
            reported = true;
            add(millis, (millis - risenAt) / 1000.0, out);
        }
    }

    /** The pump has emptied the tank: the signal has ended, though its end may come late or not at all. */
    void emptied() {
        on = false;
        risenAt = NONE;
    }

    void levelTime(double seconds) {
        hasLevelTimes = true;
        risenAt = NONE;
        count(seconds);
    }

    private void add(long millis, double seconds, CycleTracker.Sink out) {
        count(seconds);
        out.drainLevel(millis, seconds);
    }

    private void count(double seconds) {
        levels++;
        levelMax = Math.max(levelMax, seconds);
    }

    void runTime(double seconds) {
        hasRunTimes = true;
        runs++;
        runMax = Math.max(runMax, seconds);
    }

    /** Runs, or level signals where runs are not timed; empty where the machine shows neither. */
    OptionalInt runs() {
        if (hasRunTimes) {
            return OptionalInt.of(runs);
        }
        return hasLevelTimes || flagAt != NONE ? OptionalInt.of(levels) : OptionalInt.empty();
    }

    OptionalDouble levelMax() {
        return levels == 0 ? OptionalDouble.empty() : OptionalDouble.of(levelMax);
    }

    OptionalDouble runMax() {
        return runs == 0 ? OptionalDouble.empty() : OptionalDouble.of(runMax);
    }

    /** The next cycle begins. */
    void nextCycle() {
        levels = 0;
        levelMax = 0;
        runs = 0;
        runMax = 0;
    }

    void save(StateWriter out) {
        out.flag(on)
                .time(flagAt)
                .whole(step)
                .time(risenAt)
                .flag(reported)
                .flag(hasLevelTimes)
                .flag(hasRunTimes);
        out.whole(levels).real(levelMax).whole(runs).real(runMax);
    }

    static DrainTrace restore(StateReader in) {
        DrainTrace trace = new DrainTrace();
        trace.on = in.flag();
        trace.flagAt = in.time();
        trace.step = in.whole();
        trace.risenAt = in.time();
        trace.reported = in.flag();
        trace.hasLevelTimes = in.flag();
        trace.hasRunTimes = in.flag();
        trace.levels = in.wholeInt();
        trace.levelMax = in.real();
        trace.runs = in.wholeInt();
        trace.runMax = in.real();
        return trace;
    }
}
