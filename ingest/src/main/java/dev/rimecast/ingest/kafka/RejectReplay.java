package dev.rimecast.ingest.kafka;

import dev.rimecast.ingest.intake.Decision;
import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.reading.RejectReason;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.IntPredicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.TopicPartition;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Has a rejected message taken again after a mend of the register or of the product. Only what was rejected of it and has
 * not been taken since is looked at, so that no reading is counted twice. Readings and the {@link ReplayMark} that says who
 * did it are one transaction; of two at the same time the later one puts the other out, which then has written nothing.
 */
public final class RejectReplay {
    private static final Logger log = LoggerFactory.getLogger(RejectReplay.class);
    private static final String TRANSACTIONAL_ID = "rimecast-ingest-replay";
    private static final Duration PATIENCE = Duration.ofSeconds(10);

    private final Map<String, String> kafka;
    private final Look look;

    /** Decides on a message again, on the records that are asked for. */
    public interface Look {
        Decision again(String sender, String topic, byte[] payload, Instant receivedAt, IntPredicate isWanted);
    }

    /** What became of a request. */
    public sealed interface Outcome {
        /** It was looked at again. */
        record Done(Replayed replayed) implements Outcome {}

        /** Everything of it was taken before, or nothing of it was ever to be taken: only its number was bad. */
        record NothingLeft(Optional<Replayed> before) implements Outcome {}

        /** There is no such message, or not any more. */
        record Unknown() implements Outcome {}
    }

    public RejectReplay(Map<String, String> kafka, Look look) {
        this.kafka = kafka;
        this.look = look;
    }

    /**
     * Takes a message again, and returns when what came of it is stored.
     *
     * @param by who asks for it, kept with the message
     * @throws org.apache.kafka.common.KafkaException if Kafka does not answer, or another replay came between: nothing was
     *     written
     */
    public Outcome replay(RejectId id, String by, Instant at) {
        try (Fence fence = Fence.enter(kafka, TRANSACTIONAL_ID)) {
            Found found = find(id);
            ConsumerRecord<byte[], byte[]> message = found.message;
            if (message == null) {
                return new Outcome.Unknown();
            }
            LaidAside.Rejected rejected = LaidAside.rejected(message);
            List<String> left = found.last.map(Replayed::rejected).orElse(rejected.reasons()).stream()
                    .filter(line -> !line.startsWith("- " + RejectReason.BAD_NUMBER.code()))
                    .toList();
            if (left.isEmpty()) {
                return new Outcome.NothingLeft(found.last);
            }
            Decision decision = look.again(
                    rejected.sender(), rejected.topic(), rejected.payload(), rejected.receivedAt(), wanted(left));
            ReplayMark mark = new ReplayMark(id, rejected.sender(), replayed(decision, by, at));
            fence.write(records(decision, mark));
            log.info(
                    "rejected message {} of {} taken again by {}: {} readings stored, {} unclaimed, {} rejected again",
                    id,
                    mark.sender(),
                    by,
                    mark.replayed().stored(),
                    mark.replayed().unclaimed(),
                    mark.replayed().rejected().size());
            return new Outcome.Done(mark.replayed());
        }
    }

    /** All records, where the message was rejected as a whole. */
    private static IntPredicate wanted(List<String> left) {
        if (left.stream().anyMatch(line -> line.startsWith("- "))) {
            return index -> true;
        }
        Set<Integer> indexes = left.stream()
                .map(line -> Integer.valueOf(line.substring(0, line.indexOf(' '))))
                .collect(Collectors.toSet());
        return indexes::contains;
    }

    private static Replayed replayed(Decision decision, String by, Instant at) {
        List<String> again = decision.writes().stream()
                .filter(Write.ToRejects.class::isInstance)
                .flatMap(write -> ((Write.ToRejects) write).rejects().stream())
                .map(Records::line)
                .toList();
        return new Replayed(at, by, decision.tally().stored(), decision.tally().unclaimed(), again);
    }

    /** What is rejected again stays where it is: it is one message, however often somebody tries. */
    private static List<ProducerRecord<byte[], byte[]>> records(Decision decision, ReplayMark mark) {
        return Stream.concat(
                        decision.writes().stream()
                                .filter(write -> !(write instanceof Write.ToRejects))
                                .map(Records::of),
                        Stream.of(mark.toRecord()))
                .toList();
    }

    /** A message, and what came of it the last time. */
    private static final class Found {
        private @Nullable ConsumerRecord<byte[], byte[]> message;
        private Optional<Replayed> last = Optional.empty();

        void see(RejectId id, ConsumerRecord<byte[], byte[]> row) {
            Optional<ReplayMark> mark = ReplayMark.of(row);
            if (row.offset() == id.offset() && mark.isEmpty()) {
                message = row;
            }
            mark.filter(of -> of.id().equals(id)).ifPresent(of -> last = Optional.of(of.replayed()));
        }
    }

    private Found find(RejectId id) {
        Found found = new Found();
        TopicPartition partition = new TopicPartition(Topics.REJECTS, id.partition());
        try (TopicScan scan = TopicScan.from(kafka, "rimecast-reject-replay", partition, id.offset())) {
            if (!scan.toEnd(PATIENCE, row -> found.see(id, row))) {
                throw new org.apache.kafka.common.errors.TimeoutException(
                        "the rejects could not be read to their end within " + PATIENCE.toSeconds() + " s");
            }
        }
        return found;
    }
}
