package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;

/** Takes a payload apart. */
public interface PackDecoder {

    /** A reading, and the index of its record in the pack, from 0. */
    record Indexed(int recordIndex, Reading reading) {}

    /**
     * @param readings of good records, in the order of the pack
     * @param rejects of bad ones
     * @param records with a value that the pack has: good and bad together
     */
    record Decoded(List<Indexed> readings, List<Reject> rejects, int records) {
        public Decoded {
            readings = List.copyOf(readings);
            rejects = List.copyOf(rejects);
        }
    }

    /** The payload as a whole is not a pack. */
    final class NotAPackException extends Exception {
        private static final long serialVersionUID = 1L;

        public NotAPackException(String message) {
            super(message);
        }
    }

    /**
     * @param now what relative times are relative to
     * @throws NotAPackException with what is wrong, for a person
     */
    Decoded decode(PayloadFormat format, byte[] payload, Instant now) throws NotAPackException;
}
