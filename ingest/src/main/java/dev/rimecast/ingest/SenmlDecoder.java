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
import java.util.HashSet;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;

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
        return indexed((SenmlPack.Decoded) pack);
    }

    /** Gives the good readings their index back: they are in order, and every other index is that of a bad record. */
    private static Decoded indexed(SenmlPack.Decoded pack) {
        List<Reject> rejects = new ArrayList<>();
        Set<Integer> bad = new HashSet<>();
        for (SenmlPack.Rejected rejected : pack.rejected()) {
            rejects.add(new Reject(rejected.reason(), OptionalInt.of(rejected.recordIndex()), rejected.detail()));
            bad.add(rejected.recordIndex());
        }
        List<Indexed> readings = new ArrayList<>(pack.readings().size());
        int index = 0;
        for (Reading reading : pack.readings()) {
            while (bad.contains(index)) {
                index++;
            }
            readings.add(new Indexed(index++, reading));
        }
        return new Decoded(readings, rejects, readings.size() + rejects.size(), pack.lenientUnits());
    }
}
