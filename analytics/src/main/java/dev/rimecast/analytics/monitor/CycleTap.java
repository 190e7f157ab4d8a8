package dev.rimecast.analytics.monitor;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.limits.Reports;

/**
 * Where the readings of a machine have become cycles, and where what is decided from cycles begins: everything that crosses
 * this line is told here. A {@link TapeWriter} notes it, a {@link TapePlayer} says it again in place of readings.
 */
interface CycleTap extends Reports {
    /** Nobody listens. */
    CycleTap NONE = new CycleTap() {};

    /** What crosses the line, and where it goes. */
    interface Noted {
        void at(MachineMonitor machine);
    }

    /** A cycle is over; returns the rest before it that counts. */
    default Place.Rest began(Place.Rest own) {
        return own;
    }

    /** All rules but the proofs have had the cycle. */
    default void cycle(RawCycle raw, Place.Rest rest) {}

    /** A freeze that has not come to 0 °C yet goes on, as it seems without its compressor. */
    default void passed(long sinceMillis, long millis, boolean isSilent, double limitSeconds) {}

    default void cleaned(long millis) {}

    default void drainLevel(long millis, double seconds) {}

    default void room(double own, double others) {}

    /** The newest reading, where something happens that is held against it. */
    default void newest(long millis) {}

    /** An hour begins; returns whether rules of readings are asked about it. */
    default boolean hourBegan() {
        return true;
    }

    /** All rules but the proofs have had the hour. */
    default void hour(long newestMillis) {}
}
