package dev.rimecast.telemetry.file.result;

import java.time.Instant;
import java.util.OptionalDouble;

/**
 * What a score needs of one line of {@code cycles.csv}.
 *
 * @param freezeSeconds absent where it was not seen
 * @param harvestSeconds absent where it was not seen
 */
public record CycleRow(
        String machine,
        Instant freezeStart,
        OptionalDouble freezeSeconds,
        OptionalDouble harvestSeconds,
        boolean complete) {}
