package dev.rimecast.analytics.acceptance;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.telemetry.cycle.Acceptance.Probes;

/**
 * Whether a cycle tells the two probes apart: the plate froze while the condenser was warm, and warmed up in the harvest. No
 * condenser in a room that is warm enough for a machine does that [common practice].
 */
final class FirstHarvest {
    private static final double FROZEN_CELSIUS = -2;
    private static final double APART_KELVIN = 15;
    private static final double RISE_KELVIN = 5;

    private FirstHarvest() {}

    static Probes of(RawCycle raw, boolean areSwapped) {
        if (areSwapped) {
            return Probes.SWAPPED;
        }
        if (raw.evaporatorEndCelsius().isEmpty() || raw.condensingEndCelsius().isEmpty()) {
            return Probes.NOT_YET_KNOWN;
        }
        double plate = raw.evaporatorEndCelsius().getAsDouble();
        double condenser = raw.condensingEndCelsius().getAsDouble();
        // A plate that is read too seldom for its warmest is told by its freeze alone.
        boolean hasRisen = raw.harvestWarmestCelsius().orElse(plate + RISE_KELVIN) - plate >= RISE_KELVIN;
        return plate <= FROZEN_CELSIUS && condenser - plate >= APART_KELVIN && hasRisen
                ? Probes.TOLD_APART
                : Probes.NOT_YET_KNOWN;
    }
}
