package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Phase;
import java.util.Optional;

/**
 * Freezes in which the compressor does not run: the machine says that it freezes, but the condenser does not get warmer and is,
 * in the end, as cold as at rest, and the plate does not get colder. A running compressor warms its condenser within a minute or two. A condenser
 * that stays cold over a plate that freezes is a sensor, and not judged here.
 *
 * <p>Seen once that has lasted for as long as the policy says; sure with the second freeze in a row, or after twice that.
 */
final class ColdFreeze {
    private static final double WARMS_KELVIN = 3;
    private static final double COOLS_KELVIN = 2;
    /** A plate with ice is at 0 °C when nothing cools it, one without is warmer. */
    private static final double FREEZING_CELSIUS = -3;

    private static final int SURE = 2;
    private static final long GAP_MILLIS = 900_000;
    private static final long FORGOTTEN_MILLIS = 6 * 3_600_000L;
    /** States before this layout have the warmest condenser, too. */
    private static final int WITHOUT_WARMEST = 16;

    private static final long NONE = Long.MIN_VALUE;

    private long since = NONE;
    private long heardAt;
    private double coldest;
    private double plateThen;
    /** Start of the freeze that was counted last. */
    private long countedFreeze = NONE;

    private int count;
    private long seenAt = NONE;

    /**
     * Takes the condenser.
     *
     * @param plate the newest of the evaporator
     * @param isAtRest whether the condenser is colder than it ever is when the machine runs
     * @param allowedMillis for how long it may be so
     * @return whether there is something new to say
     */
    boolean condenser(
            Optional<Phase> phase,
            long phaseSince,
            double celsius,
            double plate,
            boolean isAtRest,
            long millis,
            long allowedMillis) {
        if (phase.isEmpty() || phase.get() != Phase.FREEZE || plate < FREEZING_CELSIUS) {
            since = NONE;
            return false;
        }
        boolean isOfThisFreeze = since != NONE && since >= phaseSince && millis - heardAt <= GAP_MILLIS;
        heardAt = millis;
        coldest = Math.min(coldest, celsius);
        if (!isOfThisFreeze || celsius - coldest > WARMS_KELVIN || plate < plateThen - COOLS_KELVIN) {
            since = millis;
            coldest = celsius;
            plateThen = plate;
        }
        if (!isAtRest) {
            return false;
        }
        int before = count;
        long lasted = millis - since;
        if (lasted >= allowedMillis && countedFreeze != phaseSince) {
            countedFreeze = phaseSince;
            count = isForgotten(millis) ? 1 : count + 1;
            seenAt = millis;
        } else if (lasted >= 2 * allowedMillis) {
            count = Math.max(count, SURE);
        }
        return count > before && count <= SURE;
    }

    private boolean isForgotten(long millis) {
        return seenAt == NONE || millis - seenAt > FORGOTTEN_MILLIS;
    }

    /** A cycle was finished: it runs. */
    void cycle() {
        count = 0;
    }

    /** Whether the last freezes were cold, lately. */
    boolean isSeen(long millis) {
        return count > 0 && !isForgotten(millis);
    }

    boolean isSure() {
        return count >= SURE;
    }

    void save(StateWriter out) {
        out.flag(since != NONE);
        if (since != NONE) {
            out.whole(since).time(heardAt).measured(coldest).measured(plateThen);
        }
        out.whole(countedFreeze).whole(count).time(seenAt);
    }

    static ColdFreeze restore(StateReader in) {
        ColdFreeze cold = new ColdFreeze();
        if (in.flag()) {
            cold.since = in.whole();
            cold.heardAt = in.hasLayout(WITHOUT_WARMEST) ? in.time() : cold.since;
            cold.coldest = in.measured();
            if (!in.hasLayout(WITHOUT_WARMEST)) {
                in.measured();
            }
            cold.plateThen = in.measured();
        }
        cold.countedFreeze = in.whole();
        cold.count = in.wholeInt();
        cold.seenAt = in.time();
        return cold;
    }
}
