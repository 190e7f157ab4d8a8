package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.cycle.Feature;

/**
 * Cycles that are read as equally long one after the other, as those that a clock ends are where a whole number of readings fits in. Each turn then lies
 * at the same place between two readings until the machine rests, and what that does to a length is the same for all of them; so it is with the end of freezes
 * that are equally long.
 */
final class EvenCycles {
    private static final int IN_A_ROW = 3;
    /** A freeze of no clock is read as so long as the one before by chance, mostly; not so often. */
    private static final int FREEZES_IN_A_ROW = 8;

    private static final int SAME_SECONDS = 2;
    /** Readings this far apart show turns by lines that are prolonged over a minute and more, so that even a clock's cycles come out unlike by a half of that. */
    private static final int COARSE_SECONDS = 90;

    private static final int ROW_BITS = 2;
    private static final int ROW_MASK = 3;

    /** Of the last cycle whose turns were read, s; 0 for one that its machine timed. */
    private int latest;

    private int row;
    private int latestFreeze;
    private int freezes;

    /** Takes a finished cycle. */
    void see(RawCycle raw) {
        if (!raw.complete()) {
            row = 0;
            freezes = 0;
            return;
        }
        boolean isRead = raw.apartSeconds() > 0;
        int length = isRead ? Math.toIntExact((raw.endMillis() - raw.freezeStartMillis() + 500) / 1000) : 0;
        int same = raw.apartSeconds() < COARSE_SECONDS ? SAME_SECONDS : raw.apartSeconds() / 2;
        row = isRead && Math.abs(length - latest) <= same ? Math.min(IN_A_ROW, row + 1) : 0;
        latest = length;
        int freeze = (int) Math.round(raw.freezeSeconds().orElse(0));
        freezes = Math.abs(freeze - latestFreeze) <= SAME_SECONDS ? Math.min(FREEZES_IN_A_ROW, freezes + 1) : 0;
        latestFreeze = freeze;
    }

    /** Whether when they were read puts the same error on this feature of the last cycles. */
    boolean isErrorTheSame(Feature feature) {
        return feature == Feature.EVAPORATOR_END ? freezes >= FREEZES_IN_A_ROW : row >= IN_A_ROW;
    }

    void save(StateWriter out) {
        out.whole(latest).whole(latestFreeze).u8(row | freezes << ROW_BITS);
    }

    static EvenCycles restore(StateReader in) {
        EvenCycles cycles = new EvenCycles();
        cycles.latest = in.wholeInt();
        cycles.latestFreeze = in.wholeInt();
        int counts = in.u8();
        cycles.row = counts & ROW_MASK;
        cycles.freezes = counts >> ROW_BITS;
        return cycles;
    }
}
