package dev.rimecast.telemetry.senml;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;

/** Resolves packs below the mapping to our channels, for examples whose names are not ours. */
final class Resolved {
    private Resolved() {}

    static List<SenmlRecord> json(String json, Instant now) {
        return read(json.getBytes(UTF_8), now, SenmlJsonDecoder::read);
    }

    static List<SenmlRecord> cbor(String hex, Instant now) {
        return read(HexFormat.of().parseHex(hex.replace(" ", "")), now, SenmlCborDecoder::read);
    }

    private static List<SenmlRecord> read(byte[] payload, Instant now, PackAssembly.Format format) {
        RecordResolver resolver = new RecordResolver(now.toEpochMilli());
        List<SenmlRecord> records = new ArrayList<>();
        format.read(payload, raw -> {
            resolver.takeBase(raw);
            if (!raw.isBaseOnly()) {
                records.add(withOneName(resolver.resolve(raw)));
            }
        });
        return records;
    }

    /** The examples say the whole name. */
    private static SenmlRecord withOneName(SenmlRecord record) {
        return new SenmlRecord(
                "",
                record.name(),
                record.unit(),
                record.hasOwnUnit(),
                record.timeMillis(),
                record.value(),
                record.version());
    }
}
