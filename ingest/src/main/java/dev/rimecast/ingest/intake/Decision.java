package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.reading.RejectReason;
import java.util.List;

/**
 * What a message causes. Its receipt may leave when every write is stored, not before.
 *
 * @param writes in this order; may be empty
 * @param tally its part of the conservation law
 * @param isPoison whether the message as a whole can't be read, and never will be
 * @param lenientUnits records with a secondary unit that the pack did not announce; taken, and counted
 */
public record Decision(List<Write> writes, Tally tally, boolean isPoison, int lenientUnits) {
    public Decision {
        writes = List.copyOf(writes);
    }

    /** Whether the pack's own count could not be read. */
    boolean hasBadPackNumber() {
        for (Write write : writes) {
            if (write instanceof Write.ToRejects rejects
                    && rejects.rejects().stream().anyMatch(r -> r.reason() == RejectReason.BAD_NUMBER)) {
                return true;
            }
        }
        return false;
    }
}
