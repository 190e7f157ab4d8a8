package dev.rimecast.engines;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;
import org.apache.kafka.clients.admin.Admin;
import org.apache.kafka.clients.admin.ListOffsetsOptions;
import org.apache.kafka.clients.admin.OffsetSpec;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.IsolationLevel;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The only broker is killed in the middle of transactions, again and again. */
class TransactionsAfterKillIT {
    static final int PARTITIONS = 12;

    private static final int KILLS = 5;
    private static final List<TopicPartition> KEPT = IntStream.range(0, PARTITIONS)
            .mapToObj(p -> new TopicPartition("kept", p))
            .toList();

    @TempDir
    Path directory;

    @Test
    void kills_leaveNoTransactionOpenAndNoneHalfDone() throws Exception {
        List<Long> committed = new ArrayList<>();
        for (int kill = 0; kill < KILLS; kill++) {
            try (ChildJvm child = ChildJvm.start(EngineChild.class, "transactions", directory.toString())) {
                child.readLines("committed", 30 + 7 * kill).stream()
                        .map(Long::valueOf)
                        .forEach(committed::add);
            }
        }
        try (EmbeddedKafka kafka = EmbeddedKafka.start(directory, KafkaSettings.standard(failure -> {}))) {
            awaitNoneIsOpen(kafka);
            Map<Long, Integer> seen = visible(kafka);
            assertThat(seen.keySet()).as("committed and visible").containsAll(committed);
            assertThat(seen.values()).as("partitions that show a transaction").containsOnly(PARTITIONS);
        }
    }

    private static void awaitNoneIsOpen(EmbeddedKafka kafka) {
        try (Admin admin = Admin.create(kafka.client(Map.of()))) {
            await().atMost(Duration.ofSeconds(60))
                    .pollInterval(Duration.ofMillis(500))
                    .untilAsserted(() -> assertThat(ends(admin, IsolationLevel.READ_COMMITTED))
                            .as("ends that readers of committed records reach")
                            .isEqualTo(ends(admin, IsolationLevel.READ_UNCOMMITTED)));
        }
    }

    private static Map<TopicPartition, Long> ends(Admin admin, IsolationLevel level) throws Exception {
        Map<TopicPartition, OffsetSpec> latest = new HashMap<>();
        KEPT.forEach(partition -> latest.put(partition, OffsetSpec.latest()));
        Map<TopicPartition, Long> ends = new HashMap<>();
        admin.listOffsets(latest, new ListOffsetsOptions(level))
                .all()
                .get()
                .forEach((partition, found) -> ends.put(partition, found.offset()));
        return ends;
    }

    /** How many partitions show each number. */
    private static Map<Long, Integer> visible(EmbeddedKafka kafka) {
        Map<Long, Integer> seen = new TreeMap<>();
        try (KafkaConsumer<byte[], byte[]> consumer = new KafkaConsumer<>(
                kafka.client(Map.of("isolation.level", "read_committed")),
                new ByteArrayDeserializer(),
                new ByteArrayDeserializer())) {
            consumer.assign(KEPT);
            consumer.seekToBeginning(KEPT);
            Map<TopicPartition, Long> ends = consumer.endOffsets(KEPT);
            while (KEPT.stream().anyMatch(p -> consumer.position(p) < ends.getOrDefault(p, 0L))) {
                consumer.poll(Duration.ofMillis(200))
                        .forEach(entry -> seen.merge(
                                Long.parseLong(new String(entry.value(), StandardCharsets.UTF_8)), 1, Integer::sum));
            }
        }
        return seen;
    }
}
