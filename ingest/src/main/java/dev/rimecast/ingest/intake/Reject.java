package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.reading.RejectReason;
import java.util.OptionalInt;

/**
 * One thing that was not taken.
 *
 * @param recordIndex which record of the pack, from 0; empty: the message as a whole, or its count
 * @param detail for a person, one line; may be empty
 */
public record Reject(RejectReason reason, OptionalInt recordIndex, String detail) {

    static Reject record(RejectReason reason, int recordIndex, String detail) {
        return new Reject(reason, OptionalInt.of(recordIndex), detail);
    }

    static Reject whole(RejectReason reason, String detail) {
        return new Reject(reason, OptionalInt.empty(), detail);
    }
}
