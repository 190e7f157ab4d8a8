package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * For how long the plate of a resting machine has been as warm as its condenser, which then shows the room; and whether it is
 * so much colder that there must be ice below. In a room below {@value #LEAST_ROOM_CELSIUS} °C neither can be told.
 */
final class WarmPlate {
    private static final double NEAR_KELVIN = 4;
    private static final double COLD_KELVIN = 8;
    private static final double LEAST_ROOM_CELSIUS = 16;
    private static final double HOUR_MILLIS = 3_600_000;
    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final long NONE = Long.MIN_VALUE;

    private boolean isResting;
    private long warmSince = NONE;
    private long newest = NONE;
    private long longest;
    private boolean cold;
    private boolean known;

    void pass(Doing doing, long millis) {
        isResting = doing == Doing.FULL || doing == Doing.OFF || doing == Doing.RESTING;
        if (!isResting || (newest != NONE && millis - newest > GAP_MILLIS)) {
            warmSince = NONE;
        }
        newest = millis;
    }

    void see(double evaporator, double condenser, long millis) {
        known = condenser >= LEAST_ROOM_CELSIUS;
        cold = isResting && condenser >= LEAST_ROOM_CELSIUS && evaporator <= condenser - COLD_KELVIN;
        boolean isWarm =
                isResting && condenser >= LEAST_ROOM_CELSIUS && StrictMath.abs(evaporator - condenser) <= NEAR_KELVIN;
        if (!isWarm) {
            warmSince = NONE;
        } else if (warmSince == NONE) {
            warmSince = millis;
        } else {
            longest = Math.max(longest, millis - warmSince);
        }
    }

    void begin() {
        warmSince = NONE;
        longest = 0;
    }

    /** Whether the room is warm enough to tell. */
    boolean isKnown() {
        return known;
    }

    /** Whether there is ice below it. */
    boolean isCold() {
        return cold;
    }

    double hours() {
        return warmSince == NONE ? 0 : (newest - warmSince) / HOUR_MILLIS;
    }

    double longestHours() {
        return longest / HOUR_MILLIS;
    }

    void save(StateWriter out) {
        out.flag(isResting).whole(warmSince).whole(newest).whole(longest).flag(cold).flag(known);
    }

    static WarmPlate restore(StateReader in) {
        WarmPlate plate = new WarmPlate();
        plate.isResting = in.flag();
        plate.warmSince = in.whole();
        plate.newest = in.whole();
        plate.longest = in.whole();
        plate.cold = in.flag();
        plate.known = in.flag();
        return plate;
    }
}
