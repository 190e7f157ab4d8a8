package dev.rimecast.analytics.stream;

import java.nio.charset.StandardCharsets;
import org.apache.kafka.clients.producer.internals.BuiltInPartitioner;

/** Which partition a site's log is on: what Kafka's producer chooses by itself for the site as key. */
public final class SitePartitions {
    private SitePartitions() {}

    /**
     * @param count how many partitions the topic has
     * @return 0 to {@code count - 1}
     */
    public static int of(String site, int count) {
        if (count < 1) {
            throw new IllegalArgumentException("count of partitions must be at least 1, was " + count);
        }
        return BuiltInPartitioner.partitionForKey(site.getBytes(StandardCharsets.UTF_8), count);
    }
}
