package dev.rimecast.analytics.expect;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;

/**
 * The room's temperature from the condenser of a machine that rests: a condenser that has not moved by {@value
 * #STILL_KELVIN} K for {@value #STILL_MILLIS} ms is as warm as the room. Between rests the room is taken to follow the day:
 * warmest at 15 h UTC plus nothing (the site's zone is not used), by {@value #DAY_SWING_KELVIN} K, a small swing as rooms
 * have it [common practice].
 */
public final class AmbientEstimate {
    private static final double STILL_KELVIN = 1;
    private static final long STILL_MILLIS = 45 * 60_000L;
    private static final double DAY_SWING_KELVIN = 1.5;
    private static final long DAY_MILLIS = 86_400_000L;
    private static final double DAYS_OF_MEMORY = 3;
    private static final long NONE = Long.MIN_VALUE;

    private double anchor;
    private long anchorAt = NONE;
    private double level;
    private long levelAt = NONE;

    /** Takes a condenser reading; returns the room's temperature where it shows one. */
    public OptionalDouble condenser(double celsius, long millis) {
        if (anchorAt == NONE || StrictMath.abs(celsius - anchor) > STILL_KELVIN) {
            anchor = celsius;
            anchorAt = millis;
            return OptionalDouble.empty();
        }
        if (millis - anchorAt < STILL_MILLIS) {
            return OptionalDouble.empty();
        }
        double observed = celsius - swing(millis);
        if (levelAt == NONE) {
            level = observed;
        } else {
            double days = (millis - levelAt) / (double) DAY_MILLIS;
            double keep = StrictMath.exp(-StrictMath.max(0.02, days) / DAYS_OF_MEMORY);
            level = observed + (level - observed) * keep;
        }
        levelAt = millis;
        anchor = celsius;
        anchorAt = millis;
        return OptionalDouble.of(celsius);
    }

    /** The room at a time, if the machine has rested within the last week. */
    public OptionalDouble at(long millis) {
        return levelAt == NONE || millis - levelAt > 7 * DAY_MILLIS
                ? OptionalDouble.empty()
                : OptionalDouble.of(level + swing(millis));
    }

    private static double swing(long millis) {
        double hours = Math.floorMod(millis, DAY_MILLIS) / 3_600_000.0;
        return DAY_SWING_KELVIN * StrictMath.cos((hours - 15) / 12 * StrictMath.PI);
    }

    public void save(StateWriter out) {
        out.real(anchor).whole(anchorAt).real(level).whole(levelAt);
    }

    public static AmbientEstimate restore(StateReader in) {
        AmbientEstimate estimate = new AmbientEstimate();
        estimate.anchor = in.real();
        estimate.anchorAt = in.whole();
        estimate.level = in.real();
        estimate.levelAt = in.whole();
        return estimate;
    }
}
