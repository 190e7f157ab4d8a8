package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.header.Header;
import org.apache.kafka.common.header.Headers;

/**
 * A record without a value in the topic {@code rejects}: a message that lies before it on the same partition was taken
 * again, by whom, and what came of it. It is written in the transaction that writes the readings, so that neither is there
 * without the other.
 *
 * @param id of the message
 * @param sender key of the message
 */
record ReplayMark(RejectId id, String sender, Replayed replayed) {
    static final String OFFSET = "replayed";
    private static final String BY = "replayed-by";
    private static final String AT = "replayed-at";
    private static final String STORED = "stored";
    private static final String UNCLAIMED = "unclaimed";

    ProducerRecord<byte[], byte[]> toRecord() {
        var mark = new ProducerRecord<byte[], byte[]>(Topics.REJECTS, id.partition(), Records.bytes(sender), null);
        Headers headers = mark.headers();
        headers.add(OFFSET, Records.bytes(Long.toString(id.offset())));
        headers.add(BY, Records.bytes(replayed.by()));
        headers.add(AT, Records.bytes(replayed.at().toString()));
        headers.add(STORED, Records.bytes(Integer.toString(replayed.stored())));
        headers.add(UNCLAIMED, Records.bytes(Integer.toString(replayed.unclaimed())));
        replayed.rejected().forEach(line -> headers.add(Records.REJECTED_HEADER, Records.bytes(line)));
        return mark;
    }

    /** Empty for a rejected message. */
    static Optional<ReplayMark> of(ConsumerRecord<byte[], byte[]> row) {
        if (row.headers().lastHeader(OFFSET) == null) {
            return Optional.empty();
        }
        List<String> rejected = new ArrayList<>();
        row.headers().headers(Records.REJECTED_HEADER).forEach(header -> rejected.add(text(header)));
        Replayed replayed = new Replayed(
                Instant.parse(text(row, AT)),
                text(row, BY),
                Integer.parseInt(text(row, STORED)),
                Integer.parseInt(text(row, UNCLAIMED)),
                rejected);
        RejectId id = new RejectId(row.partition(), Long.parseLong(text(row, OFFSET)));
        return Optional.of(new ReplayMark(id, new String(row.key(), StandardCharsets.UTF_8), replayed));
    }

    private static String text(ConsumerRecord<byte[], byte[]> row, String name) {
        Header header = row.headers().lastHeader(name);
        if (header == null) {
            throw new IllegalStateException(
                    "the mark at " + row.partition() + '-' + row.offset() + " of the rejects lacks " + name);
        }
        return text(header);
    }

    private static String text(Header header) {
        return new String(header.value(), StandardCharsets.UTF_8);
    }
}
