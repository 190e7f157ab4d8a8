package dev.rimecast.alerts.view;

import dev.rimecast.telemetry.proof.Check;
import dev.rimecast.telemetry.proof.Proof;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Instant;
import java.util.List;

/**
 * Whether work on a machine has held.
 *
 * @param proof as it stands now
 * @param looks what was said at each look, in order; the last one is that of {@code proof}
 */
public record ProofView(Proof proof, List<Look> looks) {

    /** What was said last at one look. */
    public record Look(Check check, Instant at, Verdict verdict, String summary) {}

    public ProofView {
        looks = List.copyOf(looks);
    }
}
