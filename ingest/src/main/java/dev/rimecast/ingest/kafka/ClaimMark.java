package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.util.Optional;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.header.Header;

/**
 * A record without a value in the topic {@code unclaimed}: how far a machine's readings have been taken over. On the
 * partition of its gateway, like the readings.
 *
 * @param upTo the first offset of that partition that has not been taken over
 */
record ClaimMark(String gateway, String machine, long upTo) {
    private static final String MACHINE_HEADER = "claimed";
    static final String UP_TO_HEADER = "up-to";

    String key() {
        return gateway + "/" + machine;
    }

    ProducerRecord<byte[], byte[]> toRecord() {
        var mark = new ProducerRecord<byte[], byte[]>(Topics.UNCLAIMED, Records.bytes(gateway), null);
        mark.headers().add(MACHINE_HEADER, Records.bytes(machine));
        mark.headers().add(UP_TO_HEADER, Records.bytes(Long.toString(upTo)));
        return mark;
    }

    static Optional<ClaimMark> of(ConsumerRecord<byte[], byte[]> row) {
        Header machine = row.headers().lastHeader(MACHINE_HEADER);
        Header upTo = row.headers().lastHeader(UP_TO_HEADER);
        if (machine == null || upTo == null) {
            return Optional.empty();
        }
        return Optional.of(new ClaimMark(text(row.key()), text(machine.value()), Long.parseLong(text(upTo.value()))));
    }

    private static String text(byte[] bytes) {
        return new String(bytes, StandardCharsets.UTF_8);
    }
}
