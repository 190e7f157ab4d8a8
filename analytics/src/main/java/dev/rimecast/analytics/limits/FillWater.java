package dev.rimecast.analytics.limits;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Machine;

/** What becomes of the water while a machine fills, by its drain and its meter. */
final class FillWater {
    /** What becomes of it. */
    enum Fate {
        STAYS_AWAY,
        RUNS_AWAY_TO_DRAIN,
        RUNS_AWAY_BY_METER,
        UNKNOWN
    }

    private static final int DRAIN_SIGNALS = 3;
    /** One may be of the harvest before. */
    private static final int NO_DRAIN_SIGNALS = 1;

    /** A fill takes about 4 kg in a machine that makes 50 kg a day (common practice); twice that is no fill. */
    private static final double MUCH_CUBIC_METRES_PER_RATED_KG = 2 * 0.004 / 50;

    private static final double MUCH_CUBIC_METRES = 0.006;
    /** A meter that was read longer ago may have counted the cycle before. */
    private static final long METER_FRESH_MILLIS = 600_000;
    /** A drain that was not heard of for so long may no longer be told. */
    private static final long DRAIN_KNOWN_MILLIS = 86_400_000L;

    private static final long NONE = Long.MIN_VALUE;

    private boolean isHigh;
    private boolean hasSignal;
    private boolean hasLevelTime;
    private long drainAt = NONE;
    private double meter = Double.NaN;
    private long meterAt = NONE;
    private long since = NONE;
    private int drained;
    private double meterAtFirst = Double.NaN;

    void read(Channel channel, double value, long millis) {
        switch (channel) {
            case WATER_VOLUME -> {
                // A meter that goes down is another one.
                meterAtFirst = Double.isNaN(meterAtFirst) || value < meterAtFirst ? value : meterAtFirst;
                meter = value;
                meterAt = millis;
            }
            case DRAIN_LEVEL -> {
                drained(isHigh && value == 0, millis);
                isHigh = value != 0;
                hasSignal = true;
            }
            case DRAIN_LEVEL_TIME -> {
                drained(!hasSignal, millis);
                hasLevelTime = true;
            }
            case DRAIN_RUN_TIME -> drained(!hasSignal && !hasLevelTime, millis);
            default -> {}
        }
    }

    private void drained(boolean isOne, long millis) {
        drainAt = millis;
        drained += isOne ? 1 : 0;
    }

    void begins(long millis) {
        since = millis;
        drained = 0;
        meterAtFirst = meterAt != NONE && millis - meterAt <= METER_FRESH_MILLIS ? meter : Double.NaN;
    }

    /** What has become of it since the fill began. */
    Fate fate(Machine machine, long now) {
        if (drained >= DRAIN_SIGNALS) {
            return Fate.RUNS_AWAY_TO_DRAIN;
        }
        // In water-cooled machines the meter counts what cools the condenser, too.
        boolean isMetered = machine.condenserCooling() != Machine.Cooling.WATER
                && !Double.isNaN(meterAtFirst)
                && meterAt > since + (now - since) / 2;
        double much = StrictMath.max(MUCH_CUBIC_METRES, MUCH_CUBIC_METRES_PER_RATED_KG * machine.ratedKgPerDay());
        if (isMetered && meter - meterAtFirst >= much) {
            return Fate.RUNS_AWAY_BY_METER;
        }
        boolean isDrainQuiet = drainAt != NONE && now - drainAt <= DRAIN_KNOWN_MILLIS && drained <= NO_DRAIN_SIGNALS;
        return isDrainQuiet || isMetered ? Fate.STAYS_AWAY : Fate.UNKNOWN;
    }

    void save(StateWriter out) {
        out.flag(isHigh).flag(hasSignal).flag(hasLevelTime).time(drainAt);
        out.real(meter).time(meterAt).time(since).whole(drained).real(meterAtFirst);
    }

    static FillWater restore(StateReader in) {
        FillWater water = new FillWater();
        water.isHigh = in.flag();
        water.hasSignal = in.flag();
        water.hasLevelTime = in.flag();
        water.drainAt = in.time();
        water.meter = in.real();
        water.meterAt = in.time();
        water.since = in.time();
        water.drained = in.wholeInt();
        water.meterAtFirst = in.real();
        return water;
    }
}
