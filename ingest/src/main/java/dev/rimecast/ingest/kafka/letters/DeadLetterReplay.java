package dev.rimecast.ingest.kafka.letters;

import dev.rimecast.ingest.kafka.Fence;
import dev.rimecast.ingest.kafka.TopicScan;
import dev.rimecast.ingest.kafka.letters.DeadLetter.Attempt;
import dev.rimecast.telemetry.log.DeadLetterHeaders;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Shows the dead letters, and has one taken again after a mend. What is taken and the mark that says who did it are one
 * transaction; of two people at once the later one puts the other out, who has written nothing then. For what is meant for the database
 * the mark is the order: the stage {@code alerts} reads it, once, in the transaction that moves its offset.
 */
public final class DeadLetterReplay {
    private static final Logger log = LoggerFactory.getLogger(DeadLetterReplay.class);
    private static final String FENCE = "rimecast-dead-letter-replay";
    private static final String READER = "rimecast-dead-letters";
    private static final Duration PATIENCE = Duration.ofSeconds(10);
    /** A letter, the mark, what Kafka writes at the end of its transaction, and the letter of a second failure with its own. */
    private static final long OFFSETS_OF_A_LETTER = 5;
    /** A stage that is not behind has tried by then. */
    private static final Duration WATCH = Duration.ofSeconds(2);

    private static final Duration BETWEEN_LOOKS = Duration.ofMillis(100);

    private final Map<String, String> kafka;
    private final Duration watch;

    /** What became of a request. */
    public sealed interface Outcome {
        /** It is where its stage takes it; if the stage has failed again already, the attempt says so. */
        record Done(Attempt attempt) implements Outcome {}

        /** It was taken before. */
        record NothingLeft(Attempt before) implements Outcome {}

        /** It can't be taken again now, and what to do instead. */
        record Impossible(String why) implements Outcome {}

        /** There is no such letter, or not any more. */
        record Unknown() implements Outcome {}
    }

    /** @param kafka how to reach Kafka */
    public DeadLetterReplay(Map<String, String> kafka) {
        this(kafka, WATCH);
    }

    /** @param watch how long to wait whether the stage fails again */
    public DeadLetterReplay(Map<String, String> kafka, Duration watch) {
        this.kafka = Map.copyOf(kafka);
        this.watch = watch;
    }

    /** The newest first. @throws org.apache.kafka.common.KafkaException if Kafka does not answer */
    public List<DeadLetter> newest(int most) {
        Letters letters = new Letters();
        try (TopicScan scan = TopicScan.ofLast(kafka, READER, Topics.DEAD_LETTERS, OFFSETS_OF_A_LETTER * most)) {
            toEnd(scan, letters);
        }
        List<DeadLetter> newest = new ArrayList<>(letters.all());
        Collections.reverse(newest);
        return newest.stream().limit(most).toList();
    }

    /**
     * Has one taken again, and returns when that is stored.
     *
     * @param by who asks for it, kept with the letter
     * @throws org.apache.kafka.common.KafkaException if Kafka does not answer, or another came between: nothing was written
     */
    public Outcome replay(String id, String by, Instant at) {
        try (Fence fence = Fence.enter(kafka, FENCE);
                TopicScan scan = TopicScan.ofLast(kafka, READER, Topics.DEAD_LETTERS, Long.MAX_VALUE)) {
            Letters letters = new Letters();
            toEnd(scan, letters);
            Optional<DeadLetter> found = letters.find(id);
            if (found.isEmpty()) {
                return new Outcome.Unknown();
            }
            DeadLetter letter = found.get();
            if (!letter.isOpen()) {
                return new Outcome.NothingLeft(last(letter));
            }
            Retake retake = Retake.of(letter.source(), letter.key(), letter.payload());
            if (retake instanceof Retake.Impossible impossible) {
                return new Outcome.Impossible(impossible.why());
            }
            fence.write(records(letter, retake, by, at));
            log.info(
                    "dead letter {} ({} at {}-{}@{}) taken again by {}",
                    id,
                    letter.source().stage(),
                    letter.source().topic(),
                    letter.source().partition(),
                    letter.source().offset(),
                    by);
            Attempt attempt = new Attempt(at, by, Optional.empty());
            return new Outcome.Done(watched(scan, letters, id, letter.attempts().size(), attempt));
        }
    }

    /**
     * As it is after a while, or as soon as it has failed again. What is committed can be read a moment later.
     *
     * @param before attempts that there were
     */
    private Attempt watched(TopicScan scan, Letters letters, String id, int before, Attempt attempt) {
        long began = System.nanoTime();
        while (true) {
            toEnd(scan, letters);
            List<Attempt> attempts = letters.find(id).orElseThrow().attempts();
            boolean isThere = attempts.size() > before;
            Attempt seen = isThere ? attempts.get(before) : attempt;
            Duration limit = isThere ? watch : PATIENCE;
            if (seen.failedAgain().isPresent() || System.nanoTime() - began > limit.toNanos()) {
                return seen;
            }
            try {
                Thread.sleep(BETWEEN_LOOKS.toMillis());
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return seen;
            }
        }
    }

    private static void toEnd(TopicScan scan, Letters letters) {
        if (!scan.toEnd(PATIENCE, letters::see)) {
            throw new org.apache.kafka.common.errors.TimeoutException(
                    "the dead letters could not be read to their end within " + PATIENCE.toSeconds() + " s");
        }
    }

    private static Attempt last(DeadLetter letter) {
        return letter.attempts().get(letter.attempts().size() - 1);
    }

    private static List<ProducerRecord<byte[], byte[]>> records(
            DeadLetter letter, Retake retake, String by, Instant at) {
        List<ProducerRecord<byte[], byte[]>> records = new ArrayList<>();
        boolean isOrder = retake instanceof Retake.ToDatabase;
        if (retake instanceof Retake.ToSite site) {
            var entry = new ProducerRecord<byte[], byte[]>(
                    Topics.SITES, bytes(site.site()), SiteLogCodec.encode(site.entry()));
            header(entry, DeadLetterHeaders.REPLAY_OF, letter.id());
            records.add(entry);
        }
        var mark = new ProducerRecord<byte[], byte[]>(
                Topics.DEAD_LETTERS, bytes(letter.key()), isOrder ? letter.payload() : null);
        header(mark, DeadLetterHeaders.REPLAYED, letter.id());
        header(mark, DeadLetterHeaders.REPLAYED_BY, by);
        header(mark, DeadLetterHeaders.REPLAYED_AT, at.toString());
        if (isOrder) {
            header(mark, DeadLetterHeaders.TOPIC, letter.source().topic());
            header(
                    mark,
                    DeadLetterHeaders.PARTITION,
                    String.valueOf(letter.source().partition()));
            header(
                    mark,
                    DeadLetterHeaders.OFFSET,
                    String.valueOf(letter.source().offset()));
        }
        records.add(mark);
        return records;
    }

    private static void header(ProducerRecord<byte[], byte[]> of, String name, String value) {
        of.headers().add(name, bytes(value));
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
