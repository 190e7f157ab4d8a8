package dev.rimecast.ingest.kafka;

import dev.rimecast.ingest.intake.Write;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import org.apache.kafka.clients.consumer.ConsumerRecord;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Puts the readings that wait for a machine into its site's log once somebody has claimed it. Idempotent by position:
 * a {@link ClaimMark} in the topic says up to which offset a machine's readings have been taken over; what an
 * interrupted run wrote without its mark is written again, and recognised downstream as the repeat that it is.
 *
 * <p>The packs lose their number: the one that carried it is in the log already, or belongs to a count that the log
 * has never seen the beginning of.
 */
public final class UnclaimedReplay {
    private static final Logger log = LoggerFactory.getLogger(UnclaimedReplay.class);
    private static final Duration POLL = Duration.ofMillis(200);

    private final Map<String, String> kafka;
    private final LogWriter writer;

    public UnclaimedReplay(Map<String, String> kafka, LogWriter writer) {
        this.kafka = kafka;
        this.writer = writer;
    }

    /**
     * Takes over what waits now for these machines, and marks it once it is stored. Blocks until then.
     *
     * @param machines in {@code register}, each with its gateway
     * @throws org.apache.kafka.common.KafkaException if Kafka does not answer: try again
     * @throws IllegalStateException if a write was not confirmed: try again
     */
    public void takeOver(Register register, Set<String> machines) {
        try (var reader = new KafkaConsumer<byte[], byte[]>(ClientConfig.reader(kafka, "rimecast-ingest-unclaimed"))) {
            List<TopicPartition> partitions = reader.partitionsFor(Topics.UNCLAIMED).stream()
                    .map(info -> new TopicPartition(info.topic(), info.partition()))
                    .toList();
            reader.assign(partitions);
            Map<TopicPartition, Long> ends = reader.endOffsets(partitions);
            Map<String, Long> takenUpTo = new HashMap<>();
            scan(
                    reader,
                    ends,
                    row -> ClaimMark.of(row).ifPresent(mark -> takenUpTo.merge(mark.key(), mark.upTo(), Math::max)));

            Confirmations confirmations = new Confirmations(writer);
            Map<String, ClaimMark> marks = new LinkedHashMap<>();
            scan(reader, ends, row -> {
                Optional<SiteRecord.Pack> pack = packOf(row);
                if (pack.isPresent()) {
                    long end = ends.getOrDefault(new TopicPartition(row.topic(), row.partition()), 0L);
                    for (String machine : machinesIn(pack.get())) {
                        ClaimMark mark = new ClaimMark(pack.get().gateway(), machine, end);
                        if (machines.contains(machine)
                                && row.offset() >= takenUpTo.getOrDefault(mark.key(), 0L)
                                && isItsGateway(register, mark)) {
                            confirmations.write(Records.of(toSite(register, pack.get(), machine)));
                            marks.put(mark.key(), mark);
                        }
                    }
                }
            });
            confirmations.await();
            marks.values().forEach(mark -> confirmations.write(mark.toRecord()));
            confirmations.await();
            marks.values().forEach(mark -> log.info("readings of {} that waited are taken over", mark.machine()));
        }
    }

    /**
     * Waits until everything that was written for these machines' gateways as unclaimed is stored: one partition keeps
     * one order, so a record behind it all says so.
     */
    public void awaitUnclaimedOf(Register register, Set<String> machines) {
        Confirmations confirmations = new Confirmations(writer);
        for (String id : machines) {
            register.machine(id)
                    .map(machine -> new ClaimMark(machine.gateway(), id, 0))
                    .ifPresent(mark -> confirmations.write(mark.toRecord()));
        }
        confirmations.await();
    }

    private static void scan(
            KafkaConsumer<byte[], byte[]> reader,
            Map<TopicPartition, Long> ends,
            Consumer<ConsumerRecord<byte[], byte[]>> visitor) {
        reader.seekToBeginning(ends.keySet());
        while (ends.entrySet().stream().anyMatch(end -> reader.position(end.getKey()) < end.getValue())) {
            for (ConsumerRecord<byte[], byte[]> row : reader.poll(POLL)) {
                if (row.offset() < ends.getOrDefault(new TopicPartition(row.topic(), row.partition()), 0L)) {
                    visitor.accept(row);
                }
            }
        }
    }

    private static Optional<SiteRecord.Pack> packOf(ConsumerRecord<byte[], byte[]> row) {
        byte[] value = row.value();
        if (value == null) {
            return Optional.empty();
        }
        return SiteLogCodec.decode(value) instanceof SiteRecord.Pack pack ? Optional.of(pack) : Optional.empty();
    }

    private static List<String> machinesIn(SiteRecord.Pack pack) {
        return pack.readings().stream().map(Reading::machine).distinct().toList();
    }

    private static boolean isItsGateway(Register register, ClaimMark mark) {
        return register.machine(mark.machine())
                .map(Machine::gateway)
                .filter(mark.gateway()::equals)
                .isPresent();
    }

    private static Write toSite(Register register, SiteRecord.Pack pack, String machine) {
        String site = register.machine(machine).orElseThrow().site();
        List<Reading> readings = pack.readings().stream()
                .filter(reading -> reading.machine().equals(machine))
                .toList();
        return new Write.ToSite(
                site, new SiteRecord.Pack(pack.gateway(), Optional.empty(), pack.receivedAt(), readings, 0));
    }
}
