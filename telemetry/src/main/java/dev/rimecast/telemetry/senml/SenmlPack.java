package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.util.List;

/**
 * What became of one message's payload. Every record of a {@link Decoded} pack that measures anything is in exactly one
 * of its two lists: records = readings + rejected + records of base fields alone.
 */
public sealed interface SenmlPack {
    /** The most records that a pack may have. */
    int MAX_RECORDS = 500;

    /** The largest payload, bytes. */
    int MAX_BYTES = 256 * 1024;

    /**
     * A pack whose records could be told apart.
     *
     * @param readings the good records, in the order in which the gateway wrote them, times resolved
     * @param rejected the bad ones
     * @param lenientUnits how many good records have a secondary unit in a pack that doesn't announce them (RFC 9100)
     */
    record Decoded(List<Reading> readings, List<Rejected> rejected, int lenientUnits) implements SenmlPack {
        public Decoded {
            readings = List.copyOf(readings);
            rejected = List.copyOf(rejected);
        }
    }

    /** A payload that is rejected as a whole, since nothing in it can be trusted. */
    record Refused(RejectReason reason, String detail) implements SenmlPack {}

    /**
     * One bad record.
     *
     * @param recordIndex its place in the pack, from 0
     * @param detail what is wrong, for a person; what it quotes of the payload is cut and made printable
     */
    record Rejected(int recordIndex, RejectReason reason, String detail) {}
}
