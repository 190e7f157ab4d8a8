package dev.rimecast.benchmarks.load;

import dev.rimecast.telemetry.log.Topics;
import java.nio.file.Path;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.apache.kafka.clients.consumer.KafkaConsumer;
import org.apache.kafka.common.TopicPartition;
import org.apache.kafka.common.serialization.ByteArrayDeserializer;

/** Kafka with nothing around it: packs as ingest writes them, as fast as they go in and out. */
final class KafkaAlone {
    private static final int PACKS_A_SECOND = 60_000;

    private KafkaAlone() {}

    static Measure produce(LearnedSite site, int clones, Path directory, int seconds) throws Exception {
        int places = places(site, clones, seconds);
        try (Engine engine = new Engine(directory)) {
            SitesLog log = new SitesLog(site, clones);
            log.packs(engine, 0, places / 2);
            long start = System.nanoTime();
            long packs = log.packs(engine, places / 2, places);
            return new Measure(packs / ((System.nanoTime() - start) / 1e9), 0, Map.of());
        }
    }

    static Measure consume(LearnedSite site, int clones, Path directory, int seconds) throws Exception {
        try (Engine engine = new Engine(directory)) {
            long packs = new SitesLog(site, clones).packs(engine, 0, places(site, clones, seconds));
            Map<String, Object> config = new HashMap<>(engine.client());
            config.put("isolation.level", "read_committed");
            try (KafkaConsumer<byte[], byte[]> consumer =
                    new KafkaConsumer<>(config, new ByteArrayDeserializer(), new ByteArrayDeserializer())) {
                List<TopicPartition> all = IntStream.range(0, SitesLog.PARTITIONS)
                        .mapToObj(partition -> new TopicPartition(Topics.SITES, partition))
                        .toList();
                consumer.assign(all);
                read(consumer, all, packs);
                long start = System.nanoTime();
                read(consumer, all, packs);
                return new Measure(packs / ((System.nanoTime() - start) / 1e9), 0, Map.of());
            }
        }
    }

    private static void read(KafkaConsumer<byte[], byte[]> consumer, List<TopicPartition> all, long packs) {
        consumer.seekToBeginning(all);
        long read = 0;
        while (read < packs) {
            read += consumer.poll(Duration.ofSeconds(1)).count();
        }
    }

    private static int places(LearnedSite site, int clones, int seconds) {
        return Math.min(site.packs().size(), Math.max(40, seconds * PACKS_A_SECOND / clones));
    }
}
