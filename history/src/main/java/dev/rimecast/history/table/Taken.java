package dev.rimecast.history.table;

/**
 * A record as it was read.
 *
 * @param log the topic's id
 * @param arrivedMillis when Kafka took it
 * @param key site; empty where the record has none
 */
public record Taken(
        String topic, String log, int partition, long offset, long arrivedMillis, String key, byte[] value) {}
