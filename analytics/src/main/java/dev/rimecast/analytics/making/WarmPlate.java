package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;

/**
 * For how long the plate of a resting machine has been as warm as its condenser, which then shows the room; and whether it is
 * so much colder that there must be ice below. It tells something only of a machine whose plate was seen to rest cold far
 * more often than not: on some it does not hang over the ice. In a room below {@value #LEAST_ROOM_CELSIUS} °C neither can be told.
 */
final class WarmPlate {
    private static final double NEAR_KELVIN = 4;
    private static final double COLD_KELVIN = 8;
    private static final double LEAST_ROOM_CELSIUS = 16;
    private static final double LEAST_REST_HOURS = 1.5;
    private static final double MOSTLY = 0.5;
    private static final int LEAST_COLD_RESTS = 3;
    private static final int MOST_RESTS = 40;
    private static final int COLD_FOR_WARM = 3;
    private static final double HOUR_MILLIS = 3_600_000;
    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final long NONE = Long.MIN_VALUE;

    private boolean isResting;
    private long warmSince = NONE;
    private long newest = NONE;
    private long longest;
    private boolean cold;
    private boolean known;
    private int coldRests;
    private int warmRests;

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

    /** A rest is over. */
    void rested(double hours) {
        if (hours < LEAST_REST_HOURS) {
            return;
        }
        if (longestHours() >= MOSTLY * hours) {
            warmRests++;
        } else {
            coldRests++;
        }
        if (coldRests + warmRests > MOST_RESTS) {
            coldRests /= 2;
            warmRests /= 2;
        }
    }

    /** Whether the machine's plate is cold over ice, as far as was seen. */
    boolean isTelling() {
        return coldRests >= LEAST_COLD_RESTS && coldRests >= COLD_FOR_WARM * warmRests;
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
        out.flag(isResting)
                .time(warmSince)
                .time(newest)
                .whole(longest)
                .flag(cold)
                .flag(known)
                .u8(coldRests)
                .u8(warmRests);
    }

    static WarmPlate restore(StateReader in) {
        WarmPlate plate = new WarmPlate();
        plate.isResting = in.flag();
        plate.warmSince = in.time();
        plate.newest = in.time();
        plate.longest = in.whole();
        plate.cold = in.flag();
        plate.known = in.flag();
        plate.coldRests = in.u8();
        plate.warmRests = in.u8();
        return plate;
    }
}
