package dev.rimecast.ingest.kafka.letters;

import static dev.rimecast.telemetry.log.DeadLetterHeaders.ERROR;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.OFFSET;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.PARTITION;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.REASON;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.REPLAYED;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.REPLAYED_AT;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.REPLAYED_BY;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.REPLAY_OF;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.SOURCE_OFFSET;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.SOURCE_PARTITION;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.SOURCE_TOPIC;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.STAGE;
import static dev.rimecast.telemetry.log.DeadLetterHeaders.TOPIC;

import dev.rimecast.ingest.kafka.letters.DeadLetter.Attempt;
import dev.rimecast.ingest.kafka.letters.DeadLetter.Source;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.common.header.Header;

/**
 * The topic of dead letters, read in order, as letters. A record that is put aside twice, since its stage was killed between
 * two steps, is one letter; one that fails again after it was taken again is the same letter, open once more.
 */
final class Letters {
    private final Map<String, Draft> drafts = new LinkedHashMap<>();

    /** What is known of one so far. */
    private static final class Draft {
        private final String id;
        private final ConsumerRecord<byte[], byte[]> first;
        private final List<Attempt> attempts = new ArrayList<>();

        Draft(String id, ConsumerRecord<byte[], byte[]> first) {
            this.id = id;
            this.first = first;
        }

        DeadLetter letter() {
            Retake retake = Retake.of(source(first), text(first.key()), payload(first));
            return new DeadLetter(
                    id,
                    Instant.ofEpochMilli(first.timestamp()),
                    source(first),
                    text(first.key()),
                    why(first),
                    retake.content(),
                    payload(first),
                    retake instanceof Retake.Impossible impossible ? Optional.of(impossible.why()) : Optional.empty(),
                    attempts);
        }
    }

    /** Takes the next record of the topic in. */
    void see(ConsumerRecord<byte[], byte[]> row) {
        Optional<String> marked = header(row, REPLAYED);
        if (marked.isPresent()) {
            Draft of = drafts.get(marked.get());
            if (of != null) {
                of.attempts.add(new Attempt(
                        header(row, REPLAYED_AT).map(Instant::parse).orElse(Instant.ofEpochMilli(row.timestamp())),
                        header(row, REPLAYED_BY).orElse(""),
                        Optional.empty()));
            }
            return;
        }
        String id = header(row, REPLAY_OF).orElseGet(() -> idOf(row));
        Draft known = drafts.get(id);
        if (known == null) {
            drafts.put(id, new Draft(id, row));
        } else if (!known.attempts.isEmpty()) {
            int last = known.attempts.size() - 1;
            known.attempts.set(last, known.attempts.get(last).failed(why(row)));
        }
    }

    /** In the order in which they were put aside. */
    List<DeadLetter> all() {
        return drafts.values().stream().map(Draft::letter).toList();
    }

    Optional<DeadLetter> find(String id) {
        return Optional.ofNullable(drafts.get(id)).map(Draft::letter);
    }

    /** Of where it was and what it is: offsets alone begin anew with a log that is put back from a backup. */
    private static String idOf(ConsumerRecord<byte[], byte[]> row) {
        Source source = source(row);
        byte[] place = (source.stage() + '/' + source.topic() + '/' + source.partition() + '/' + source.offset() + '/')
                .getBytes(StandardCharsets.UTF_8);
        byte[] key = Objects.requireNonNullElse(row.key(), new byte[0]);
        byte[] value = payload(row);
        ByteBuffer whole = ByteBuffer.allocate(place.length + Integer.BYTES + key.length + value.length);
        whole.put(place).putInt(key.length).put(key).put(value);
        return UUID.nameUUIDFromBytes(whole.array()).toString();
    }

    private static Source source(ConsumerRecord<byte[], byte[]> row) {
        return new Source(
                header(row, STAGE).orElse("analytics"),
                header(row, SOURCE_TOPIC).or(() -> header(row, TOPIC)).orElse(""),
                (int) number(header(row, SOURCE_PARTITION).or(() -> header(row, PARTITION))),
                number(header(row, SOURCE_OFFSET).or(() -> header(row, OFFSET))));
    }

    private static String why(ConsumerRecord<byte[], byte[]> row) {
        return header(row, ERROR).or(() -> header(row, REASON)).orElse("");
    }

    private static byte[] payload(ConsumerRecord<byte[], byte[]> row) {
        return Objects.requireNonNullElse(row.value(), new byte[0]);
    }

    private static long number(Optional<String> text) {
        return text.filter(digits -> digits.matches("\\d{1,18}"))
                .map(Long::parseLong)
                .orElse(0L);
    }

    private static Optional<String> header(ConsumerRecord<byte[], byte[]> row, String name) {
        Header header = row.headers().lastHeader(name);
        return header == null ? Optional.empty() : Optional.of(text(header.value()));
    }

    private static String text(byte[] bytes) {
        return bytes == null ? "" : new String(bytes, StandardCharsets.UTF_8);
    }
}
