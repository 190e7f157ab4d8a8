package dev.rimecast.analytics.stream;

import dev.rimecast.telemetry.log.DeadLetterHeaders;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.header.internals.RecordHeaders;
import org.apache.kafka.streams.errors.ErrorHandlerContext;

/**
 * A record put aside: key and value as they came, the reason in headers {@code reason}, {@code error},
 * {@code source-topic}, {@code source-partition}, {@code source-offset}. It is written in the transaction that steps
 * over the record, so there is one for each, however often that is tried. Headers of the record stay: one that was taken again and
 * fails again says so ({@link DeadLetterHeaders#REPLAY_OF}).
 */
final class DeadLetter {
    private static final int ERROR_CHARACTERS_MAX = 1000;

    private DeadLetter() {}

    /** Where it went wrong. Nothing can go wrong at the send alone: see {@link Decisions}. */
    enum Reason {
        DECODE,
        PROCESS;

        private final String code = name().toLowerCase(Locale.ROOT);

        String code() {
            return code;
        }
    }

    static ProducerRecord<byte[], byte[]> of(ErrorHandlerContext source, PoisonRecordException poison) {
        RecordHeaders headers = new RecordHeaders(source.headers());
        add(headers, DeadLetterHeaders.REASON, poison.reason().code());
        add(headers, DeadLetterHeaders.ERROR, describe(poison));
        add(headers, DeadLetterHeaders.SOURCE_TOPIC, source.topic());
        add(headers, DeadLetterHeaders.SOURCE_PARTITION, String.valueOf(source.partition()));
        add(headers, DeadLetterHeaders.SOURCE_OFFSET, String.valueOf(source.offset()));
        return new ProducerRecord<>(Topics.DEAD_LETTERS, null, source.sourceRawKey(), source.sourceRawValue(), headers);
    }

    private static String describe(PoisonRecordException poison) {
        String text = String.valueOf(poison.getMessage());
        return text.length() > ERROR_CHARACTERS_MAX ? text.substring(0, ERROR_CHARACTERS_MAX) : text;
    }

    private static void add(RecordHeaders headers, String name, String value) {
        headers.add(name, value.getBytes(StandardCharsets.UTF_8));
    }
}
