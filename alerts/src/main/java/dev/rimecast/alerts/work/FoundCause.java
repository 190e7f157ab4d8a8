package dev.rimecast.alerts.work;

import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.proof.Verdict;
import java.util.Optional;

/**
 * What really was wrong, as far as people found out.
 *
 * @param truth as a label of detection
 * @param proof whether the work has held; empty where none was to be looked at
 */
public record FoundCause(TruthRow truth, Optional<Verdict> proof) {}
