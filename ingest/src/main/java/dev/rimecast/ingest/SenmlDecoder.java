package dev.rimecast.ingest;

import dev.rimecast.ingest.intake.PackDecoder;
import dev.rimecast.ingest.intake.PayloadFormat;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Instant;

/** SenML (RFC 8428) as the telemetry module reads it. */
final class SenmlDecoder implements PackDecoder {

    @Override
    public Decoded decode(PayloadFormat format, byte[] payload, Instant now) throws NotAPackException {
        throw new NotAPackException(RejectReason.NOT_SENML, "not wired");
    }
}
