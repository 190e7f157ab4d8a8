package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.function.Consumer;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.common.header.Header;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * What ingest did not put into a site's log: rejects with their reason, and readings of machines in no register. Reads the
 * end of both topics anew at each question; for a person who looks, not for a program that polls.
 */
public final class LaidAside {
    private static final Logger log = LoggerFactory.getLogger(LaidAside.class);
    /** Of each partition, so many records of the topic of unclaimed readings are looked through. */
    private static final long UNCLAIMED_LOOK = 2_000;

    /** The message, the mark of a replay, and what Kafka writes at the end of that one's transaction. */
    private static final int OFFSETS_OF_A_REJECT = 3;

    private static final Duration PATIENCE = Duration.ofSeconds(5);

    private final Map<String, String> kafka;

    public LaidAside(Map<String, String> kafka) {
        this.kafka = kafka;
    }

    /**
     * A message of which something was rejected.
     *
     * @param at when it was laid aside
     * @param receivedAt by ingest's clock
     * @param sender the gateway, or what the connection called itself
     * @param topic of MQTT
     * @param reasons as they were recorded: {@code index code detail}, index {@code -} for the message as a whole
     * @param payload as it came
     * @param replays what came of it when somebody had it taken again, the oldest first
     */
    public record Rejected(
            RejectId id,
            Instant at,
            Instant receivedAt,
            String sender,
            String topic,
            List<String> reasons,
            byte[] payload,
            List<Replayed> replays) {
        public Rejected {
            reasons = List.copyOf(reasons);
            replays = List.copyOf(replays);
        }

        private Rejected with(List<Replayed> since) {
            return new Rejected(id, at, receivedAt, sender, topic, reasons, payload, since);
        }
    }

    /** A machine that is in no register, or behind another gateway, and what waits of it. */
    public record Unclaimed(String machine, String gateway, long readings, Instant firstAt, Instant lastAt) {}

    /** The newest first. @throws org.apache.kafka.common.KafkaException if Kafka does not answer */
    public List<Rejected> rejects(int most) {
        List<Rejected> found = new ArrayList<>();
        Map<RejectId, List<Replayed>> replays = new HashMap<>();
        readEnd(
                Topics.REJECTS,
                (long) OFFSETS_OF_A_REJECT * most,
                row -> ReplayMark.of(row)
                        .ifPresentOrElse(
                                mark -> replays.computeIfAbsent(mark.id(), id -> new ArrayList<>())
                                        .add(mark.replayed()),
                                () -> found.add(rejected(row))));
        return found.stream()
                .map(one -> one.with(replays.getOrDefault(one.id(), List.of())))
                .sorted(Comparator.comparing(Rejected::at).reversed())
                .limit(most)
                .toList();
    }

    /** One machine's readings of one pack that waits. */
    private record Waiting(Unclaimed readings, long offset) {
        String key() {
            return readings.gateway() + '/' + readings.machine();
        }
    }

    /**
     * By machine, of the newest readings; without those that were taken over when a machine was in the register for a while.
     *
     * @throws org.apache.kafka.common.KafkaException if Kafka does not answer
     */
    public List<Unclaimed> unclaimed(Register register) {
        List<Waiting> waiting = new ArrayList<>();
        Map<String, Long> takenOver = new HashMap<>();
        readEnd(Topics.UNCLAIMED, UNCLAIMED_LOOK, row -> {
            ClaimMark.of(row).ifPresent(mark -> takenOver.merge(mark.key(), mark.upTo(), Math::max));
            byte[] value = row.value();
            if (value != null && SiteLogCodec.decode(value) instanceof SiteRecord.Pack pack) {
                waiting.addAll(ofPack(pack, row.offset()));
            }
        });
        Map<String, Unclaimed> found = new TreeMap<>();
        waiting.stream()
                .filter(one -> one.offset() >= takenOver.getOrDefault(one.key(), 0L))
                .forEach(one -> found.merge(
                        one.readings().machine() + ' ' + one.readings().gateway(), one.readings(), LaidAside::both));
        return found.values().stream()
                .filter(one -> register.machine(one.machine())
                        .map(Machine::gateway)
                        .filter(one.gateway()::equals)
                        .isEmpty())
                .toList();
    }

    private static List<Waiting> ofPack(SiteRecord.Pack pack, long offset) {
        Map<String, Unclaimed> ofMachine = new TreeMap<>();
        for (Reading reading : pack.readings()) {
            Instant at = Instant.ofEpochMilli(reading.timeMillis());
            ofMachine.merge(
                    reading.machine(), new Unclaimed(reading.machine(), pack.gateway(), 1, at, at), LaidAside::both);
        }
        return ofMachine.values().stream().map(one -> new Waiting(one, offset)).toList();
    }

    private static Unclaimed both(Unclaimed a, Unclaimed b) {
        return new Unclaimed(
                a.machine(),
                a.gateway(),
                a.readings() + b.readings(),
                a.firstAt().isBefore(b.firstAt()) ? a.firstAt() : b.firstAt(),
                a.lastAt().isAfter(b.lastAt()) ? a.lastAt() : b.lastAt());
    }

    /** The last records of each partition; what comes meanwhile is left for the next time. */
    private void readEnd(String topic, long most, Consumer<ConsumerRecord<byte[], byte[]>> visitor) {
        try (TopicScan scan = TopicScan.ofLast(kafka, "rimecast-laid-aside", topic, most)) {
            if (!scan.toEnd(PATIENCE, visitor)) {
                log.warn("topic {} could not be read to its end within {} s", topic, PATIENCE.toSeconds());
            }
        }
    }

    static Rejected rejected(ConsumerRecord<byte[], byte[]> row) {
        List<String> reasons = new ArrayList<>();
        row.headers().headers(Records.REJECTED_HEADER).forEach(header -> reasons.add(text(header.value())));
        Instant at = Instant.ofEpochMilli(row.timestamp());
        String receivedAt = header(row, Records.RECEIVED_AT_HEADER);
        return new Rejected(
                new RejectId(row.partition(), row.offset()),
                at,
                receivedAt.isEmpty() ? at : Instant.parse(receivedAt),
                text(row.key()),
                header(row, Records.TOPIC_HEADER),
                reasons,
                Objects.requireNonNullElse(row.value(), new byte[0]),
                List.of());
    }

    private static String header(ConsumerRecord<byte[], byte[]> row, String name) {
        Header header = row.headers().lastHeader(name);
        return header == null ? "" : text(header.value());
    }

    private static String text(byte[] bytes) {
        return bytes == null ? "" : new String(bytes, StandardCharsets.UTF_8);
    }
}
