package dev.rimecast.engines;

import dev.rimecast.telemetry.log.Topics;
import java.time.Duration;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * A topic as the contract wants it.
 *
 * @param partitions fixed at creation: another number would move sites to other partitions and tear their logs apart
 * @param config topic settings
 */
public record TopicSpec(String name, int partitions, Map<String, String> config) {
    /** On one machine; a cluster uses 48. */
    public static final int ONE_MACHINE_PARTITIONS = 12;

    public TopicSpec {
        if (partitions < 1) {
            throw new IllegalArgumentException("partitions of " + name + " must be at least 1, was " + partitions);
        }
        config = Map.copyOf(config);
    }

    /**
     * All topics of the contract.
     *
     * @param partitions of every topic whose key is the site or the machine
     * @param sitesAge how long the sites' logs are kept; the contract's default is 30 days
     * @param sitesBytesPerPartition and at most so many bytes of them in one partition
     */
    public static List<TopicSpec> ofContract(int partitions, Duration sitesAge, long sitesBytesPerPartition) {
        return List.of(
                new TopicSpec(
                        Topics.SITES,
                        partitions,
                        Map.of(
                                "message.timestamp.type",
                                "LogAppendTime",
                                "retention.ms",
                                String.valueOf(sitesAge.toMillis()),
                                "retention.bytes",
                                String.valueOf(sitesBytesPerPartition))),
                kept(Topics.REJECTS, partitions, 30),
                kept(Topics.UNCLAIMED, partitions, 30),
                kept(Topics.CYCLES, partitions, 30),
                kept(Topics.FINDINGS, partitions, 90),
                kept(Topics.PROOFS, partitions, 90),
                kept(Topics.ACKS, partitions, 1),
                compacted(Topics.REGISTRY),
                compacted(Topics.CREDENTIALS),
                compacted(Topics.POLICIES),
                kept(Topics.ALERTS, partitions, 30),
                kept(Topics.DEAD_LETTERS, 1, 30));
    }

    /**
     * The same where a write is confirmed only when several brokers have it.
     *
     * @param minInSync Kafka's {@code min.insync.replicas}: with fewer copies than these nothing is taken
     */
    public TopicSpec withMinInSync(int minInSync) {
        Map<String, String> more = new HashMap<>(config);
        more.put("min.insync.replicas", String.valueOf(minInSync));
        return new TopicSpec(name, partitions, more);
    }

    /** The contract's topics on one machine: 12 partitions, sites' logs 30 days and 1 GiB per partition. */
    public static List<TopicSpec> oneMachine() {
        return ofContract(ONE_MACHINE_PARTITIONS, Duration.ofDays(30), 1L << 30);
    }

    private static TopicSpec kept(String name, int partitions, int days) {
        return new TopicSpec(
                name,
                partitions,
                Map.of(
                        "message.timestamp.type",
                        "LogAppendTime",
                        "retention.ms",
                        String.valueOf(Duration.ofDays(days).toMillis())));
    }

    private static TopicSpec compacted(String name) {
        return new TopicSpec(name, 1, Map.of("message.timestamp.type", "LogAppendTime", "cleanup.policy", "compact"));
    }
}
