package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * For how long the plate has been frozen on end, and whether something cools it meanwhile: it moves, as a dead sensor does not, and stays
 * cold, as a plate at rest does not. A harvest or a rest thaws it.
 */
final class CooledPlate {
    private static final double FROZEN_CELSIUS = -5;
    private static final double THAWED_CELSIUS = -1;
    private static final double MOVES_KELVIN = 3;
    private static final long GAP_MILLIS = 30 * 60_000L;
    /** A harvest warms the plate for two to four minutes: between readings that are further apart one may have gone unseen [common practice] ... */
    private static final long UNSEEN_MILLIS = 3 * 60_000L;
    /** ... and has where the plate is by so much warmer then than when this freeze was first seen. One that tells what changes alone is silent for longer, too. */
    private static final double WARMER_KELVIN = 2;

    private static final long NONE = Long.MIN_VALUE;

    private long frozenSince = NONE;
    private long newest = NONE;
    private float low;
    private float high;

    void see(double celsius, long millis) {
        boolean isGap = newest == NONE || millis - newest > GAP_MILLIS;
        boolean mayHaveThawed = !isGap && millis - newest > UNSEEN_MILLIS && celsius > high + WARMER_KELVIN;
        newest = millis;
        if (celsius > THAWED_CELSIUS || isGap || mayHaveThawed) {
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

    /** For how long it has been frozen on end, ms; 0 where it is not. */
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
