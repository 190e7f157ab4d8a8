package dev.rimecast.ingest.intake;

import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.reading.Reading;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Keeps records of the log below their limit: a larger pack is split by machine, all parts with the pack's number. */
final class PackSplitter {
    /** Of the contract. */
    static final int MAX_RECORD_BYTES = 512 * 1024;
    /** No encoded reading takes more than this beside its machine's name and its text, bytes. */
    private static final int READING_BYTES = 32;
    /** At most; what takes four is two characters. */
    private static final int UTF_8_BYTES_OF_A_CHAR = 3;

    private PackSplitter() {}

    static List<SiteRecord.Pack> split(SiteRecord.Pack pack, int maxBytes) {
        if (upperBoundBytes(pack) <= maxBytes || SiteLogCodec.encode(pack).length <= maxBytes) {
            return List.of(pack);
        }
        Map<String, List<Reading>> byMachine = new LinkedHashMap<>();
        for (Reading reading : pack.readings()) {
            byMachine
                    .computeIfAbsent(reading.machine(), machine -> new ArrayList<>())
                    .add(reading);
        }
        List<SiteRecord.Pack> parts = new ArrayList<>();
        for (List<Reading> readings : byMachine.values()) {
            // What was rejected is counted once.
            int rejected = parts.isEmpty() ? pack.rejected() : 0;
            parts.add(new SiteRecord.Pack(pack.gateway(), pack.number(), pack.receivedAt(), readings, rejected));
        }
        return parts;
    }

    private static long upperBoundBytes(SiteRecord.Pack pack) {
        long bytes = 1024;
        for (Reading reading : pack.readings()) {
            bytes += READING_BYTES
                    + reading.machine().length()
                    + (long) UTF_8_BYTES_OF_A_CHAR * reading.text().length();
        }
        return bytes;
    }
}
