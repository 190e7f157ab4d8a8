package dev.rimecast.engines;

import java.util.Map;
import java.util.function.Consumer;

/**
 * What can be set on {@link EmbeddedKafka}.
 *
 * @param flushEveryMessage force every batch to disk before it is acknowledged: survives a power cut, not only a kill
 * @param segmentBytes size of one log segment, bytes; what retention deletes at a time
 * @param defaultRetentionBytes per partition, for topics that do not say it themselves, bytes
 * @param brokerConfig further broker settings, which win over ours
 * @param onFailure told when the broker gives up after it has started; it would else have ended the process without
 *     a word
 */
public record KafkaSettings(
        boolean flushEveryMessage,
        int segmentBytes,
        long defaultRetentionBytes,
        Map<String, String> brokerConfig,
        Consumer<EngineFailure> onFailure) {

    public KafkaSettings {
        if (segmentBytes < 1 << 20) {
            throw new IllegalArgumentException("segmentBytes must be at least 1 MiB, was " + segmentBytes);
        }
        brokerConfig = Map.copyOf(brokerConfig);
    }

    /** Durable, 128 MiB segments, 1 GiB per partition. */
    public static KafkaSettings standard(Consumer<EngineFailure> onFailure) {
        return new KafkaSettings(true, 128 << 20, 1L << 30, Map.of(), onFailure);
    }
}
