package dev.rimecast.telemetry.cycle;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * One freeze and the harvest after it, with what was expected of it.
 *
 * @param end when it was over: harvest end, or the last sign of an incomplete cycle
 * @param pullDownSeconds freeze start to 0 °C, interpolated
 * @param splitKelvin condensing temperature over ambient at the fixed point of the freeze
 * @param ambientSource where the ambient came from, e.g. {@code sensor}; empty when there is none
 * @param complete false where a gap, a power cut or a stop cut it short
 * @param residuals measured against expected, for every feature that could be judged
 * @param acceptance how a new or moved machine does; with its first cycles only
 */
public record Cycle(
        String machine,
        Instant freezeStart,
        Instant end,
        OptionalDouble pullDownSeconds,
        OptionalDouble freezeSeconds,
        OptionalDouble harvestSeconds,
        OptionalDouble condensingPeakCelsius,
        OptionalDouble condensingMeanCelsius,
        OptionalDouble splitKelvin,
        OptionalDouble evaporatorEndCelsius,
        OptionalDouble ambientCelsius,
        String ambientSource,
        OptionalDouble waterCelsius,
        String waterSource,
        OptionalInt drainRuns,
        OptionalDouble drainLevelMaxSeconds,
        OptionalDouble drainRunMaxSeconds,
        boolean complete,
        List<Residual> residuals,
        String detectorVersion,
        String policyVersion,
        Optional<Acceptance> acceptance) {

    public Cycle {
        residuals = List.copyOf(residuals);
    }

    /**
     * One feature of the cycle against what this machine should do in these conditions.
     *
     * @param measured in the feature's unit
     * @param expected in the feature's unit
     * @param sigma one standard deviation of what is normal around the expectation, in the feature's unit, above 0
     */
    public record Residual(Feature feature, double measured, double expected, double sigma) {
        public Residual {
            if (!(sigma > 0)) {
                throw new IllegalArgumentException("sigma of " + feature.code() + " must be above 0, was " + sigma);
            }
        }

        /** Distance from the expectation in standard deviations. */
        public double standardised() {
            return (measured - expected) / sigma;
        }
    }
}
