package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Instant;
import java.util.List;

/** Takes a payload apart. */
public interface PackDecoder {

    /**
     * A pack, taken apart.
     *
     * @param readings of good records, in the order of the pack
     * @param rejects of bad ones, likewise
     * @param records that the pack has: good and bad together
     * @param lenientUnits good records with a secondary unit that the pack did not announce (RFC 9100)
     */
    record Decoded(List<Reading> readings, List<Reject> rejects, int records, int lenientUnits) {
        public Decoded {
            readings = List.copyOf(readings);
            rejects = List.copyOf(rejects);
        }

        /**
         * Where a reading's record stands in the pack, from 0: readings are in order, and every other record is a rejected one.
         *
         * @param place of the reading, from 0
         */
        int recordIndex(int place) {
            int index = place;
            for (Reject reject : rejects) {
                if (reject.recordIndex().isPresent() && reject.recordIndex().getAsInt() <= index) {
                    index++;
                }
            }
            return index;
        }
    }

    /** The payload as a whole is not a pack. */
    final class NotAPackException extends Exception {
        private static final long serialVersionUID = 1L;

        private final RejectReason reason;
        private final String detail;

        /**
         * A payload that is rejected as a whole.
         *
         * @param detail what is wrong, for a person
         */
        public NotAPackException(RejectReason reason, String detail) {
            super(reason.code() + ": " + detail);
            this.reason = reason;
            this.detail = detail;
        }

        public RejectReason reason() {
            return reason;
        }

        public String detail() {
            return detail;
        }
    }

    /**
     * Takes a payload apart.
     *
     * @param now what relative times are relative to
     * @throws NotAPackException if the payload as a whole can't be taken
     */
    Decoded decode(PayloadFormat format, byte[] payload, Instant now) throws NotAPackException;
}
