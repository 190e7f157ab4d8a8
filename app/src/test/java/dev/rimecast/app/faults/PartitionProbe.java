package dev.rimecast.app.faults;

import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.reading.Reading;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.ConsumerGroupDescription;
import org.apache.kafka.clients.admin.MemberDescription;
import org.apache.kafka.clients.consumer.OffsetAndMetadata;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArraySerializer;

/**
 * How long a pack waits in each partition of the sites' logs until analytics has decided on it. It writes a pack for each of many
 * sites five times a second, and looks ten times a second how far the group has committed: what is committed is decided and visible.
 * The figures are too high by up to the time between two looks.
 */
final class PartitionProbe implements AutoCloseable {
    static final String GROUP = "rimecast-analytics";

    private static final List<String> SITES =
            IntStream.range(0, 60).mapToObj("probe-%02d"::formatted).toList();
    private static final long WRITE_EVERY_MILLIS = 200;
    private static final long LOOK_EVERY_MILLIS = 100;

    private record Entered(long offset, long atMillis) {}

    private final KafkaProducer<byte[], byte[]> producer;
    private final Admin admin;
    private final int partitions;
    private final Thread writing = new Thread(this::write, "probe-writes");
    private final Thread looking = new Thread(this::look, "probe-looks");
    private final Map<Integer, ArrayDeque<Entered>> waiting = new HashMap<>();
    private final Map<Integer, Long> worstMillis = new TreeMap<>();
    private final List<String> refused = new ArrayList<>();
    private final CountDownLatch closing = new CountDownLatch(1);

    PartitionProbe(Map<String, String> kafka) {
        Map<String, Object> config = new HashMap<>(kafka);
        config.put("acks", "all");
        config.put("delivery.timeout.ms", 60_000);
        config.put("request.timeout.ms", 10_000);
        producer = new KafkaProducer<>(config, new ByteArraySerializer(), new ByteArraySerializer());
        admin = Admin.create(new HashMap<String, Object>(kafka));
        partitions = producer.partitionsFor(Topics.SITES).size();
        writing.setDaemon(true);
        looking.setDaemon(true);
        writing.start();
        looking.start();
    }

    /** Rows of the register. */
    static String rows() {
        StringBuilder rows = new StringBuilder();
        SITES.forEach(site -> rows.append(site + "-1," + site + ",gw-" + site + '\n'));
        return rows.toString();
    }

    private void write() {
        while (!isOver(WRITE_EVERY_MILLIS)) {
            Instant now = Instant.now();
            for (String site : SITES) {
                Reading normal = Reading.number(site + "-1", Channel.CONDENSER_TEMPERATURE, now.toEpochMilli(), 39);
                SiteRecord pack = new SiteRecord.Pack("gw-" + site, Optional.empty(), now, List.of(normal), 0);
                producer.send(
                        new ProducerRecord<>(
                                Topics.SITES, site.getBytes(StandardCharsets.UTF_8), SiteLogCodec.encode(pack)),
                        (stored, failure) -> {
                            if (failure == null) {
                                entered(stored.partition(), new Entered(stored.offset(), stored.timestamp()));
                            } else {
                                refused(failure);
                            }
                        });
            }
        }
    }

    private synchronized void entered(int partition, Entered pack) {
        waiting.computeIfAbsent(partition, p -> new ArrayDeque<>()).add(pack);
    }

    private synchronized void refused(Exception failure) {
        refused.add(failure.toString());
    }

    /** Packs that Kafka did not take within a minute, each with why. */
    synchronized List<String> refused() {
        return List.copyOf(refused);
    }

    private void look() {
        while (!isOver(LOOK_EVERY_MILLIS)) {
            try {
                Map<TopicPartition, OffsetAndMetadata> reached = admin.listConsumerGroupOffsets(GROUP)
                        .partitionsToOffsetAndMetadata()
                        .get();
                decided(reached, System.currentTimeMillis());
            } catch (ExecutionException away) {
                // A broker or the coordinator is away: what waits is seen to wait at the next look.
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                return;
            }
        }
    }

    private synchronized void decided(Map<TopicPartition, OffsetAndMetadata> reached, long nowMillis) {
        reached.forEach((partition, upTo) -> {
            if (partition.topic().equals(Topics.SITES) && upTo != null) {
                ArrayDeque<Entered> packs = waiting.getOrDefault(partition.partition(), new ArrayDeque<>());
                while (!packs.isEmpty() && packs.peek().offset() < upTo.offset()) {
                    worstMillis.merge(
                            partition.partition(), nowMillis - packs.remove().atMillis(), Math::max);
                }
            }
        });
        // What still waits has waited so long at least.
        waiting.forEach((partition, packs) -> {
            if (!packs.isEmpty()) {
                worstMillis.merge(partition, nowMillis - packs.element().atMillis(), Math::max);
            }
        });
    }

    /** The longest wait in each partition since the last call, milliseconds. */
    synchronized Map<Integer, Long> takeWorst() {
        Map<Integer, Long> taken = new TreeMap<>(worstMillis);
        worstMillis.clear();
        return taken;
    }

    /** Of the sites' logs. */
    int partitions() {
        return partitions;
    }

    /** How many partitions each instance has, by its name. */
    Map<String, Integer> owners() throws ExecutionException, InterruptedException {
        Map<String, Integer> owners = new TreeMap<>();
        ConsumerGroupDescription group = admin.describeConsumerGroups(List.of(GROUP))
                .all()
                .get()
                .values()
                .iterator()
                .next();
        for (MemberDescription member : group.members()) {
            owners.merge(
                    member.groupInstanceId().orElse(member.clientId()),
                    member.assignment().topicPartitions().size(),
                    Integer::sum);
        }
        return owners;
    }

    /** Worst and middle of the partitions, seconds. */
    static String inWords(Map<Integer, Long> worst) {
        List<Long> sorted = new ArrayList<>(worst.values());
        sorted.sort(Long::compare);
        return sorted.isEmpty()
                ? "nothing seen"
                : String.format(
                        "longest wait %.1f s, in the middle partition %.1f s, of %d partitions",
                        sorted.get(sorted.size() - 1) / 1e3, sorted.get(sorted.size() / 2) / 1e3, sorted.size());
    }

    /** Waits a turn, or until it is closed. */
    private boolean isOver(long millis) {
        try {
            return closing.await(millis, TimeUnit.MILLISECONDS);
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            return true;
        }
    }

    @Override
    public void close() throws InterruptedException {
        closing.countDown();
        writing.join(10_000);
        looking.join(10_000);
        producer.close();
        admin.close();
    }
}
