package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.finding.Cause;

/** A cause as a result file names it, without its evidence. */
public record NamedCause(Cause cause, double probability) {}
