package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * For how long the plate has been frozen on end, and whether something cools it meanwhile: it moves, as a dead sensor does not, and stays
 * cold, as a plate at rest does not. A harvest or a rest thaws it. A harvest frees the plate for some minutes, and can fall between two readings that are further apart:
 * so a reading speaks for {@value #SPEAKS_FOR_MILLIS} ms at most, and only what readings speak for is counted.
 */
final class CooledPlate {
    private static final double FROZEN_CELSIUS = -5;
    private static final double THAWED_CELSIUS = -1;
    private static final double MOVES_KELVIN = 3;
    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final long SPEAKS_FOR_MILLIS = 90_000;
    private static final long NONE = Long.MIN_VALUE;

    private long frozenSince = NONE;
    private long newest = NONE;
    private float low;
    private float high;

    void see(double celsius, long millis) {
        boolean isGap = newest == NONE || millis - newest > GAP_MILLIS;
        if (frozenSince != NONE) {
            frozenSince += Math.max(0, millis - newest - SPEAKS_FOR_MILLIS);
        }
        newest = millis;
        if (celsius > THAWED_CELSIUS || isGap) {
            frozenSince = NONE;
        }
        if (frozenSince != NONE) {
            low = Math.min(low, (float) celsius);
            high = Math.max(high, (float) celsius);
        } else if (celsius < FROZEN_CELSIUS) {
            frozenSince = millis;
            low = (float) celsius;
            high = low;
        }
    }

    boolean isCooled() {
        return frozenSince != NONE && high - low >= MOVES_KELVIN;
    }

    /** For how long it has been seen frozen on end, ms; 0 where it is not. */
    long frozenMillis() {
        return frozenSince == NONE ? 0 : newest - frozenSince;
    }

    void save(StateWriter out) {
        out.time(frozenSince).time(newest);
        if (frozenSince != NONE) {
            out.real32(low).real32(high);
        }
    }

    static CooledPlate restore(StateReader in) {
        CooledPlate plate = new CooledPlate();
        plate.frozenSince = in.time();
        plate.newest = in.time();
        if (plate.frozenSince != NONE) {
            plate.low = in.real32();
            plate.high = in.real32();
        }
        return plate;
    }
}
