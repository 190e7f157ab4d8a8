package dev.rimecast.analytics.proof;

import dev.rimecast.analytics.drift.Trend;
import java.util.function.Supplier;

/**
 * How a feature stands by its last cycles, on its scale; residuals are measured less expected.
 *
 * @param noise variance of what is normal for one cycle
 * @param unsure variance of the expectation itself, the same for every cycle
 * @param material the least change that is worth a finding
 * @param level median residual of the last {@code cycles}
 * @param lastMillis when the last one was judged
 * @param trend daily residuals since the time that was asked for, as they are when it is asked: most cycles don't
 */
public record Standing(
        double noise,
        double unsure,
        double material,
        double level,
        int cycles,
        long lastMillis,
        Supplier<Trend> trend) {

    Standing withUnsure(double variance) {
        return new Standing(noise, variance, material, level, cycles, lastMillis, trend);
    }
}
