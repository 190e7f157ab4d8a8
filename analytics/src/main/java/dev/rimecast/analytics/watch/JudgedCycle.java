package dev.rimecast.analytics.watch;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.Conditions;
import dev.rimecast.telemetry.cycle.Cycle.Residual;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A cycle, and what is thought of it.
 *
 * @param place what it was judged by
 * @param ofSplit what its split was judged by; empty where the room is not known but for the split itself
 * @param residuals every feature that could be judged, against its expectation
 */
public record JudgedCycle(RawCycle raw, Conditions place, Optional<Conditions> ofSplit, List<Residual> residuals) {
    public JudgedCycle {
        residuals = List.copyOf(residuals);
    }

    /** Condensing temperature over ambient at the end of the freeze, K, where the room is known for it. */
    public OptionalDouble splitKelvin() {
        return raw.condensingEndCelsius().isPresent() && ofSplit.isPresent()
                ? OptionalDouble.of(
                        raw.condensingEndCelsius().getAsDouble() - ofSplit.get().ambientCelsius())
                : OptionalDouble.empty();
    }
}
