package dev.rimecast.telemetry.senml;

import dev.rimecast.telemetry.reading.Reading;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;

/** What both formats do with a payload: bound it, take its records one after another, sort good from bad. */
final class PackAssembly implements Consumer<RawRecord> {
    private final RecordResolver resolver;
    private final ReadingMapper mapper = new ReadingMapper();
    private final List<Reading> readings = new ArrayList<>();
    private final List<SenmlPack.Rejected> rejected = new ArrayList<>();
    private int records;

    private PackAssembly(Instant now) {
        resolver = new RecordResolver(now.toEpochMilli());
    }

    /** How one format gives its records, each as soon as it has been read. */
    @FunctionalInterface
    interface Format {
        /** @throws BadPack if the payload is not in the format, or holds what must not be ignored */
        void read(byte[] payload, Consumer<RawRecord> records);
    }

    static SenmlPack decode(byte[] payload, Instant now, Format format) {
        if (payload.length > SenmlPack.MAX_BYTES) {
            return new SenmlPack.Refused(
                    RejectReason.TOO_LARGE, payload.length + " bytes, at most " + SenmlPack.MAX_BYTES);
        }
        PackAssembly pack = new PackAssembly(now);
        try {
            format.read(payload, pack);
        } catch (BadPack e) {
            return new SenmlPack.Refused(e.reason(), e.detail());
        }
        if (pack.records == 0) {
            return new SenmlPack.Refused(RejectReason.NOT_SENML, "no record in it");
        }
        return new SenmlPack.Decoded(pack.readings, pack.rejected, pack.mapper.lenientUnits());
    }

    @Override
    public void accept(RawRecord raw) {
        int index = records++;
        if (records > SenmlPack.MAX_RECORDS) {
            throw new BadPack(RejectReason.TOO_MANY_RECORDS, "more than " + SenmlPack.MAX_RECORDS + " records");
        }
        resolver.takeBase(raw);
        if (raw.isBaseOnly()) {
            return;
        }
        try {
            readings.add(mapper.reading(resolver.resolve(raw)));
        } catch (BadRecord e) {
            rejected.add(new SenmlPack.Rejected(index, e.reason(), e.detail()));
        }
    }
}
