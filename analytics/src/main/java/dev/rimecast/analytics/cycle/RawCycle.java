package dev.rimecast.analytics.cycle;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * What was measured of one cycle, before anything is expected of it. Times are milliseconds since 1970.
 *
 * @param endMillis harvest end, or the last sign of an incomplete cycle
 * @param condensingEndCelsius condenser at the fixed point of the freeze: weighted over its last minutes
 * @param harvestWarmestCelsius how warm the plate has become in the harvest; absent where it is read too seldom to say
 * @param waterLitres water taken in per cycle, the mean of the last cycles; now and then, where there is a meter
 * @param iceKilograms ice made per cycle, in the same way
 * @param complete false where a gap, a power cut or a stop cut it short
 * @param apartSeconds how far apart the readings were between which its freeze and harvest turned; 0 where the machine timed them, or said them as they
 *     came
 * @param plateApartSeconds how far apart the readings of the plate were
 * @param cyclesSinceRest complete cycles directly before it, without a rest, a stop or a gap between
 */
public record RawCycle(
        long freezeStartMillis,
        long endMillis,
        OptionalDouble pullDownSeconds,
        OptionalDouble freezeSeconds,
        OptionalDouble harvestSeconds,
        OptionalDouble condensingPeakCelsius,
        OptionalDouble condensingMeanCelsius,
        OptionalDouble condensingEndCelsius,
        OptionalDouble evaporatorEndCelsius,
        OptionalDouble harvestWarmestCelsius,
        OptionalDouble ambientCelsius,
        OptionalDouble waterCelsius,
        OptionalDouble fillSeconds,
        OptionalInt drainRuns,
        OptionalDouble drainLevelMaxSeconds,
        OptionalDouble drainRunMaxSeconds,
        OptionalDouble waterLitres,
        OptionalDouble iceKilograms,
        boolean complete,
        int apartSeconds,
        int plateApartSeconds,
        int cyclesSinceRest) {
    /** Layout of a machine's state from which on how far apart readings were is saved. */
    private static final int WITH_APART = 19;

    /** The same with a harvest that its machine timed itself. */
    RawCycle withHarvest(long end, double seconds) {
        return new RawCycle(
                freezeStartMillis,
                end,
                pullDownSeconds,
                freezeSeconds,
                OptionalDouble.of(seconds),
                condensingPeakCelsius,
                condensingMeanCelsius,
                condensingEndCelsius,
                evaporatorEndCelsius,
                harvestWarmestCelsius,
                ambientCelsius,
                waterCelsius,
                fillSeconds,
                drainRuns,
                drainLevelMaxSeconds,
                drainRunMaxSeconds,
                waterLitres,
                iceKilograms,
                complete,
                0,
                plateApartSeconds,
                cyclesSinceRest);
    }

    public void save(StateWriter out) {
        out.whole(freezeStartMillis).whole(endMillis - freezeStartMillis);
        out.optionalReal(pullDownSeconds).optionalReal(freezeSeconds).optionalReal(harvestSeconds);
        out.optionalReal(condensingPeakCelsius).optionalReal(condensingMeanCelsius);
        out.optionalReal(condensingEndCelsius).optionalReal(evaporatorEndCelsius);
        out.optionalReal(harvestWarmestCelsius);
        out.optionalReal(ambientCelsius).optionalReal(waterCelsius).optionalReal(fillSeconds);
        out.whole(drainRuns.orElse(-1));
        out.optionalReal(drainLevelMaxSeconds).optionalReal(drainRunMaxSeconds);
        out.optionalReal(waterLitres).optionalReal(iceKilograms);
        out.flag(complete).whole(apartSeconds).whole(plateApartSeconds).whole(cyclesSinceRest);
    }

    public static RawCycle restore(StateReader in) {
        long start = in.whole();
        return new RawCycle(
                start,
                start + in.whole(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                count(in.wholeInt()),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.optionalReal(),
                in.flag(),
                in.hasLayout(WITH_APART) ? in.wholeInt() : 0,
                in.hasLayout(WITH_APART) ? in.wholeInt() : 0,
                in.wholeInt());
    }

    private static OptionalInt count(int coded) {
        return coded < 0 ? OptionalInt.empty() : OptionalInt.of(coded);
    }
}
