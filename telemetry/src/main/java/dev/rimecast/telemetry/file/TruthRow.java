package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.finding.Cause;
import java.time.Instant;
import java.util.Optional;

/**
 * One line of {@code truth.csv}: what was really wrong with a machine.
 *
 * @param cause empty for a healthy machine
 * @param onset when it began
 * @param stopped when the machine stopped or reached its limit because of it
 * @param deadline the last moment at which a warning is of use
 */
public record TruthRow(
        String machine,
        Optional<Cause> cause,
        Optional<Instant> onset,
        Optional<Instant> stopped,
        Optional<Instant> deadline) {}
