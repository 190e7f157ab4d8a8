package dev.rimecast.analytics.fourthfleet;

import dev.rimecast.telemetry.machine.Phase;

/** What the machine is doing, and since when. */
final class PhaseClock {
    private static final long REDUCED_CYCLE_SECONDS = 1900;
    private static final long REDUCED_FREEZE_SECONDS = 1600;

    private Phase phase = Phase.WAIT;
    private long since;

    PhaseClock(long start) {
        since = start;
    }

    Phase phase() {
        return phase;
    }

    boolean is(Phase asked) {
        return phase == asked;
    }

    long seconds(long t) {
        return t - since;
    }

    void enter(Phase next, long t) {
        phase = next;
        since = t;
    }

    /** Whether the plan is to make ice or shed it. */
    boolean isRunning() {
        return phase == Phase.FREEZE || phase == Phase.HARVEST || phase == Phase.REDUCED;
    }

    boolean isShedding(long t) {
        return phase == Phase.HARVEST || (phase == Phase.REDUCED && inReducedCycle(t) >= REDUCED_FREEZE_SECONDS);
    }

    /** Without its probe a machine goes by the clock: 1600 s of freeze, 300 s of harvest. */
    private long inReducedCycle(long t) {
        return seconds(t) % REDUCED_CYCLE_SECONDS;
    }

    boolean reducedHarvestBegins(long t) {
        return inReducedCycle(t) == REDUCED_FREEZE_SECONDS;
    }

    boolean reducedHarvestEnds(long t) {
        return inReducedCycle(t) == 0 && seconds(t) > 0;
    }
}
