package dev.rimecast.ingest.kafka;

import dev.rimecast.ingest.intake.Reject;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import org.apache.kafka.clients.producer.ProducerRecord;

/** Writes as Kafka records. */
final class Records {
    /** Header of a reject: the MQTT topic. */
    static final String TOPIC_HEADER = "topic";
    /** Header of a reject: ISO 8601. */
    static final String RECEIVED_AT_HEADER = "received-at";
    /** Header of a reject, one for each rejected record: {@code index reason detail}, index {@code -} for the whole. */
    static final String REJECTED_HEADER = "rejected";

    /** What a record's key and framing add to its size, bytes; a round figure. */
    private static final int OVERHEAD_BYTES = 100;

    private Records() {}

    static ProducerRecord<byte[], byte[]> of(Write write) {
        if (write instanceof Write.ToSite site) {
            return new ProducerRecord<>(Topics.SITES, bytes(site.site()), SiteLogCodec.encode(site.entry()));
        }
        if (write instanceof Write.ToUnclaimed unclaimed) {
            return new ProducerRecord<>(
                    Topics.UNCLAIMED, bytes(unclaimed.gateway()), SiteLogCodec.encode(unclaimed.pack()));
        }
        return rejects((Write.ToRejects) write);
    }

    /** The same tick for one partition; it belongs to no site, so it has no key. */
    static ProducerRecord<byte[], byte[]> tick(int partition, Instant minute) {
        return new ProducerRecord<>(Topics.SITES, partition, null, SiteLogCodec.encode(new SiteRecord.Tick(minute)));
    }

    static long sizeBytes(ProducerRecord<byte[], byte[]> kafkaRecord) {
        byte[] value = kafkaRecord.value();
        long size = OVERHEAD_BYTES + (value == null ? 0L : value.length);
        for (var header : kafkaRecord.headers()) {
            size += (long) header.key().length() + header.value().length;
        }
        return size;
    }

    private static ProducerRecord<byte[], byte[]> rejects(Write.ToRejects rejects) {
        var kafkaRecord =
                new ProducerRecord<byte[], byte[]>(Topics.REJECTS, bytes(rejects.sender()), rejects.payload());
        kafkaRecord.headers().add(TOPIC_HEADER, bytes(rejects.topic()));
        kafkaRecord.headers().add(RECEIVED_AT_HEADER, bytes(rejects.receivedAt().toString()));
        for (Reject reject : rejects.rejects()) {
            kafkaRecord.headers().add(REJECTED_HEADER, bytes(line(reject)));
        }
        return kafkaRecord;
    }

    static String line(Reject reject) {
        String index = reject.recordIndex().isPresent()
                ? Integer.toString(reject.recordIndex().getAsInt())
                : "-";
        return index + " " + reject.reason().code() + " " + reject.detail();
    }

    static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
