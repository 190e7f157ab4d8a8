package dev.rimecast.benchmarks.load;

import dev.rimecast.analytics.stream.SitePartitions;
import dev.rimecast.engines.TopicSpec;
import dev.rimecast.telemetry.log.PackNumber;
import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import org.apache.kafka.clients.producer.KafkaProducer;
import org.apache.kafka.clients.producer.ProducerRecord;

/** Fills Kafka with what the stages before would have written, for parts that are measured alone. */
final class SitesLog {
    static final int PARTITIONS = TopicSpec.ONE_MACHINE_PARTITIONS;

    private static final String CHANGELOG = "rimecast-analytics-monitors-changelog";
    private static final long MINUTE_MILLIS = 60_000;

    private final LearnedSite site;
    private final int clones;

    SitesLog(LearnedSite site, int clones) {
        this.site = site;
        this.clones = clones;
    }

    /** Puts the learned state of every clone where analytics restores it from. */
    void learned(Engine engine) {
        engine.createTopics(new TopicSpec(
                CHANGELOG, PARTITIONS, Map.of("cleanup.policy", "compact", "segment.bytes", String.valueOf(16 << 20))));
        try (KafkaProducer<byte[], byte[]> producer = engine.producer()) {
            for (int clone = 0; clone < clones; clone++) {
                int partition = SitePartitions.of(Clone.name(clone), PARTITIONS);
                for (Map.Entry<String, byte[]> part : site.states().entrySet()) {
                    byte[] key = Clone.of((Clone.FIRST + '/' + part.getKey()).getBytes(StandardCharsets.UTF_8), clone);
                    var unused = producer.send(
                            new ProducerRecord<>(CHANGELOG, partition, key, Clone.of(part.getValue(), clone)));
                }
            }
        }
    }

    /**
     * Writes packs of every clone, and the minutes between.
     *
     * @param from place of the first pack of each, from 0
     * @param to behind the last
     * @return how many packs
     */
    long packs(Engine engine, int from, int to) {
        long written = 0;
        long tick = site.packs().get(from).atMillis() / MINUTE_MILLIS * MINUTE_MILLIS;
        try (KafkaProducer<byte[], byte[]> producer = engine.producer()) {
            for (int place = from; place < to; place++) {
                LearnedSite.Pack pack = site.packs().get(place);
                while (tick + MINUTE_MILLIS <= pack.atMillis()) {
                    tick += MINUTE_MILLIS;
                    byte[] minute = SiteLogCodec.encode(new SiteRecord.Tick(Instant.ofEpochMilli(tick)));
                    for (int partition = 0; partition < PARTITIONS; partition++) {
                        var unused = producer.send(new ProducerRecord<>(Topics.SITES, partition, null, minute));
                    }
                }
                byte[] bytes = bytes(pack, place + 1L);
                int[] places = Clone.places(bytes);
                for (int clone = 0; clone < clones; clone++) {
                    byte[] copy = bytes.clone();
                    Clone.write(copy, places, clone);
                    var unused = producer.send(new ProducerRecord<>(
                            Topics.SITES, Clone.name(clone).getBytes(StandardCharsets.UTF_8), copy));
                    written++;
                }
            }
        }
        return written;
    }

    static byte[] bytes(LearnedSite.Pack pack, long seq) {
        return SiteLogCodec.encode(new SiteRecord.Pack(
                Clone.gateway(0),
                Optional.of(new PackNumber("b1", seq)),
                Instant.ofEpochMilli(pack.atMillis()),
                pack.readings(),
                0));
    }
}
