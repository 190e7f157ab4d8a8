package dev.rimecast.ingest;

import dev.rimecast.ingest.intake.PackDecoder;
import dev.rimecast.ingest.intake.PayloadFormat;
import dev.rimecast.ingest.intake.Reject;
import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.senml.SenmlCborDecoder;
import dev.rimecast.telemetry.senml.SenmlJsonDecoder;
import dev.rimecast.telemetry.senml.SenmlPack;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;

/** SenML (RFC 8428) as the telemetry module reads it. */
public final class SenmlDecoder implements PackDecoder {

    @Override
    public Decoded decode(PayloadFormat format, byte[] payload, Instant now) throws NotAPackException {
        SenmlPack pack = switch (format) {
            case JSON -> SenmlJsonDecoder.decode(payload, now);
            case CBOR -> SenmlCborDecoder.decode(payload, now);
        };
        if (pack instanceof SenmlPack.Refused refused) {
            throw new NotAPackException(refused.reason(), refused.detail());
        }
        SenmlPack.Decoded decoded = (SenmlPack.Decoded) pack;
        List<Reading> readings = decoded.readings();
        List<Reject> rejects = new ArrayList<>(decoded.rejected().size());
        for (SenmlPack.Rejected rejected : decoded.rejected()) {
            rejects.add(new Reject(rejected.reason(), OptionalInt.of(rejected.recordIndex()), rejected.detail()));
        }
        return new Decoded(readings, rejects, readings.size() + rejects.size(), decoded.lenientUnits());
    }
}
