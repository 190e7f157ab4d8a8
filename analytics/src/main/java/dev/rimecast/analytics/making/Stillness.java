package dev.rimecast.analytics.making;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.Decay;

/**
 * Whether the condenser has stayed within {@value #STILL_KELVIN} K of its own mean of the last hour for
 * {@value #STILL_MILLIS} ms. When a batch machine runs, its condenser goes up and down by more with each cycle; at rest it
 * follows the room, which is slower than that.
 */
final class Stillness {
    private static final double STILL_KELVIN = 2;
    private static final long STILL_MILLIS = 60 * 60_000L;
    private static final double MEAN_MILLIS = 3_600_000;
    private static final long GAP_MILLIS = 30 * 60_000L;
    private static final long NONE = Long.MIN_VALUE;

    private final Decay decay = new Decay(MEAN_MILLIS);
    private double level;
    private long movedAt = NONE;
    private long newest = NONE;

    void see(double celsius, long millis) {
        if (newest == NONE || millis - newest > GAP_MILLIS) {
            level = celsius;
            movedAt = millis;
        } else {
            level += (celsius - level) * (1 - decay.after(millis - newest));
        }
        newest = millis;
        if (StrictMath.abs(celsius - level) > STILL_KELVIN) {
            movedAt = millis;
        }
    }

    boolean isStill() {
        return movedAt != NONE && newest - movedAt >= STILL_MILLIS;
    }

    void save(StateWriter out) {
        out.real(level).time(movedAt).time(newest);
    }

    static Stillness restore(StateReader in) {
        Stillness still = new Stillness();
        still.level = in.real();
        still.movedAt = in.time();
        still.newest = in.time();
        return still;
    }
}
