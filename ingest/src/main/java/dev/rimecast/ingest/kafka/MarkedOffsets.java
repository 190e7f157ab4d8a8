package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.util.function.LongUnaryOperator;
import org.apache.kafka.common.header.Header;
import org.apache.kafka.common.header.Headers;

/** Offsets that ingest keeps in records of its own topics; a log that is put back elsewhere has its records at others. */
public final class MarkedOffsets {
    private MarkedOffsets() {}

    /**
     * Changes the offset that a record names, where it names one; it is of the record's own partition and before it.
     *
     * @param moved from an old offset to the new one
     */
    public static void move(String topic, Headers headers, LongUnaryOperator moved) {
        String name = topic.equals(Topics.UNCLAIMED)
                ? ClaimMark.UP_TO_HEADER
                : topic.equals(Topics.REJECTS) ? ReplayMark.OFFSET : "";
        Header header = name.isEmpty() ? null : headers.lastHeader(name);
        if (header != null) {
            long offset = Long.parseLong(new String(header.value(), StandardCharsets.UTF_8));
            headers.remove(name);
            headers.add(name, Records.bytes(Long.toString(moved.applyAsLong(offset))));
        }
    }
}
