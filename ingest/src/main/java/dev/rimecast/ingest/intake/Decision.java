package dev.rimecast.ingest.intake;

import java.util.List;

/**
 * What a message causes. Its receipt may leave when every write is stored, not before.
 *
 * @param writes in this order; may be empty
 * @param tally its part of the conservation law
 */
public record Decision(List<Write> writes, Tally tally) {
    public Decision {
        writes = List.copyOf(writes);
    }

    /** Whether not one record was taken because the message as a whole is poison. */
    public boolean isPoison() {
        return tally.received() > 0
                && tally.rejected().getOrDefault(RejectReason.NOT_A_PACK, 0)
                                + tally.rejected().getOrDefault(RejectReason.TOO_LARGE, 0)
                                + tally.rejected().getOrDefault(RejectReason.TOO_MANY_RECORDS, 0)
                        == tally.received();
    }

    /** Whether the pack's own count could not be read. */
    boolean hasBadPackNumber() {
        return writes.stream()
                .anyMatch(write -> write instanceof Write.ToRejects rejects
                        && rejects.rejects().stream().anyMatch(r -> r.reason() == RejectReason.BAD_PACK_NUMBER));
    }
}
