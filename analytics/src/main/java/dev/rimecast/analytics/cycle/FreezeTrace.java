package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.analytics.statistics.Decay;
import java.util.OptionalDouble;

/**
 * What the temperatures did during the freeze that is going on, and the plate in its harvest. Means are of readings, not of
 * time.
 */
final class FreezeTrace {
    /** A plate that was last read so long before its harvest ended may have become warm after that. */
    private static final long SPEAKS_FOR_END_MILLIS = 45_000;
    /** From this layout of a machine's state on it has when that was. */
    private static final int WITH_READ_AT = 19;

    /** The condenser's weighted mean looks back about this long. */
    private static final double LOOK_BACK_MILLIS = 240_000;

    private static final double NEAR_KELVIN = 0.4;

    private final Decay lookBack = new Decay(LOOK_BACK_MILLIS);
    private double condenserSum;
    private int condenserCount;
    private double condenserPeak;
    private double condenserRecent;
    private long condenserAt;
    private double condenserAtColdest;
    private boolean hasColdest;
    private double coldest;
    private double ambientSum;
    private int ambientCount;
    private WaterTrace water;
    private float harvestWarmest = Float.NaN;
    /** When the plate was last read in the harvest. */
    private long harvestReadAt = Long.MIN_VALUE;

    FreezeTrace() {
        this(new WaterTrace());
    }

    /** @param water what was seen of the water since the cycle before */
    FreezeTrace(WaterTrace water) {
        this.water = water;
    }

    void evaporator(double celsius) {
        if (!hasColdest || celsius <= coldest + NEAR_KELVIN) {
            coldest = hasColdest ? Math.min(coldest, celsius) : celsius;
            hasColdest = true;
            condenserAtColdest = condenserRecent;
        }
    }

    void harvestPlate(double celsius, long millis) {
        harvestReadAt = millis;
        harvestWarmest = Float.isNaN(harvestWarmest) ? (float) celsius : Math.max(harvestWarmest, (float) celsius);
    }

    void condenser(double celsius, long millis) {
        if (condenserCount == 0) {
            condenserPeak = celsius;
            condenserRecent = celsius;
        } else {
            condenserPeak = Math.max(condenserPeak, celsius);
            double keep = lookBack.after(millis - condenserAt);
            condenserRecent = celsius + (condenserRecent - celsius) * keep;
        }
        condenserAt = millis;
        condenserSum += celsius;
        condenserCount++;
    }

    void ambient(double celsius) {
        ambientSum += celsius;
        ambientCount++;
    }

    void water(double celsius, double room) {
        water.read(celsius, room);
    }

    /** Whether the plate was seen, and never at or below 0 °C. */
    boolean isAboveZero() {
        return hasColdest && coldest > 0;
    }

    OptionalDouble condenserPeak() {
        return condenserCount == 0 ? OptionalDouble.empty() : OptionalDouble.of(condenserPeak);
    }

    OptionalDouble condenserMean() {
        return mean(condenserSum, condenserCount);
    }

    /** The condenser over the last minutes before the plate was coldest, which is where the freeze ends. */
    OptionalDouble condenserAtEnd() {
        if (condenserCount == 0) {
            return OptionalDouble.empty();
        }
        return OptionalDouble.of(hasColdest ? condenserAtColdest : condenserRecent);
    }

    OptionalDouble coldest() {
        return hasColdest ? OptionalDouble.of(coldest) : OptionalDouble.empty();
    }

    /** How warm the plate has become in the harvest; absent where it is read too seldom to say. It gets warm in the last minute. */
    OptionalDouble harvestWarmest(long end) {
        boolean isKnown = !Float.isNaN(harvestWarmest)
                && harvestReadAt != Long.MIN_VALUE
                && end - harvestReadAt <= SPEAKS_FOR_END_MILLIS;
        return isKnown ? OptionalDouble.of(harvestWarmest) : OptionalDouble.empty();
    }

    OptionalDouble ambient() {
        return mean(ambientSum, ambientCount);
    }

    /** The water that the machine drew. */
    OptionalDouble water() {
        return water.drawn();
    }

    private static OptionalDouble mean(double sum, int count) {
        return count == 0 ? OptionalDouble.empty() : OptionalDouble.of(sum / count);
    }

    void save(StateWriter out) {
        out.real(condenserSum).whole(condenserCount).real(condenserPeak).real(condenserRecent);
        out.time(condenserAt).real(condenserAtColdest).flag(hasColdest).real(coldest);
        out.real(ambientSum).whole(ambientCount);
        water.save(out);
        out.real32(harvestWarmest).time(harvestReadAt);
    }

    static FreezeTrace restore(StateReader in) {
        FreezeTrace trace = new FreezeTrace();
        trace.condenserSum = in.real();
        trace.condenserCount = in.wholeInt();
        trace.condenserPeak = in.real();
        trace.condenserRecent = in.real();
        trace.condenserAt = in.time();
        trace.condenserAtColdest = in.real();
        trace.hasColdest = in.flag();
        trace.coldest = in.real();
        trace.ambientSum = in.real();
        trace.ambientCount = in.wholeInt();
        trace.water = WaterTrace.restore(in);
        trace.harvestWarmest = in.real32();
        trace.harvestReadAt = in.hasLayout(WITH_READ_AT) ? in.time() : Long.MIN_VALUE;
        return trace;
    }
}
