package dev.rimecast.analytics.cycle;

import java.util.OptionalDouble;

/** The turning points of a cycle that is over, to be joined with what was seen during it. */
record FinishedCycle(
        long freezeStart,
        long freezeEnd,
        long end,
        boolean isComplete,
        boolean hasHarvest,
        int apartSeconds,
        int cyclesSinceRest) {

    RawCycle toRaw(FreezeTrace trace, ZeroCrossing crossing, TimedLengths timed, DrainTrace drain, Meters meters) {
        boolean isCounted = isComplete && cyclesSinceRest > 0;
        boolean hasFreeze = freezeEnd != Long.MIN_VALUE;
        OptionalDouble timedFreeze = timed.freezeOf(freezeStart);
        return new RawCycle(
                freezeStart,
                end,
                orElse(
                        timed.pullDownOf(freezeStart),
                        crossing.isKnown() && crossing.millis() <= (hasFreeze ? freezeEnd : end),
                        crossing.millis() - freezeStart),
                orElse(timedFreeze, hasFreeze, freezeEnd - freezeStart),
                orElse(OptionalDouble.empty(), hasFreeze && hasHarvest, end - freezeEnd),
                trace.condenserPeak(),
                trace.condenserMean(),
                trace.condenserAtEnd(),
                trace.coldest(),
                trace.harvestWarmest(end),
                trace.ambient(),
                trace.water(),
                timed.takeFill(),
                drain.runs(),
                drain.levelMax(),
                drain.runMax(),
                meters.litres(isCounted),
                meters.kilograms(isCounted),
                isComplete,
                timedFreeze.isPresent() ? 0 : apartSeconds,
                crossing.apartSeconds(),
                cyclesSinceRest);
    }

    private static OptionalDouble orElse(OptionalDouble timed, boolean isSeen, long seenMillis) {
        if (timed.isPresent()) {
            return timed;
        }
        return isSeen ? OptionalDouble.of(seenMillis / 1000.0) : OptionalDouble.empty();
    }
}
