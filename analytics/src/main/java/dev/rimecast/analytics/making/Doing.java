package dev.rimecast.analytics.making;

import dev.rimecast.telemetry.machine.Phase;
import java.util.Optional;

/** What a machine does, as far as its channels say. The order is part of the state's layout. */
enum Doing {
    /** It fills, freezes or harvests; without a phase, its condenser is as warm as when it runs. */
    MAKING,
    /** It makes ice by the clock, since it has lost a sensor. */
    REDUCED,
    /** It says that its bin is full. */
    FULL,
    OFF,
    WAITING,
    CLEANING,
    STOPPED,
    /** It does not run, and no channel says why; or it idles though its bin is not full. */
    RESTING;

    private static final Doing[] VALUES = values();

    /**
     * @param isAtRest whether the condenser says that the compressor does not run; used where no phase is known, as is the bin
     */
    static Doing of(Optional<Phase> phase, BinSignal bin, boolean isAtRest, long millis) {
        if (phase.isEmpty() && !isAtRest) {
            return MAKING;
        }
        if (phase.isEmpty() && bin.isSilent(millis)) {
            return OFF;
        }
        if (phase.isEmpty()) {
            return bin.isFull() ? FULL : RESTING;
        }
        return switch (phase.get()) {
            case FILL, FREEZE, HARVEST -> MAKING;
            case REDUCED -> REDUCED;
            case IDLE -> bin.isCalling() ? RESTING : FULL;
            case WAIT -> WAITING;
            case CLEAN -> CLEANING;
            case STOPPED -> STOPPED;
            case OFF -> OFF;
        };
    }

    static Doing ofOrdinal(int ordinal) {
        return VALUES[ordinal];
    }

    static int count() {
        return VALUES.length;
    }
}
