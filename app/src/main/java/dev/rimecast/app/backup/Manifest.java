package dev.rimecast.app.backup;

import java.util.List;
import java.util.Map;

/**
 * What is in an archive; the entry {@code manifest.json}. Formats change only by adding, or with another number.
 *
 * @param format {@link #FORMAT} of the version that wrote it
 * @param product version of the product that wrote it
 * @param createdAt ISO 8601
 * @param schema version of the database's schema
 * @param tables in the order in which they can be filled
 * @param sequences that number rows
 * @param topics with all their partitions
 * @param positions how far analytics had read
 * @param entries all the others, with their sums
 */
record Manifest(
        int format,
        String product,
        String createdAt,
        String schema,
        List<Table> tables,
        List<Sequence> sequences,
        List<Topic> topics,
        List<Position> positions,
        List<Entry> entries) {
    static final int FORMAT = 1;
    static final String NAME = "manifest.json";

    /** @param columns those that are stored, in the order of the entry */
    record Table(String name, List<String> columns, long rows) {
        String entry() {
            return "database/" + name;
        }
    }

    /** @param isCalled whether {@code last} has been given out */
    record Sequence(String name, long last, boolean isCalled) {}

    /** @param config settings that differ from Kafka's own */
    record Topic(String name, int partitions, Map<String, String> config) {
        String entry(int partition) {
            return "topics/" + name + "/" + partition;
        }
    }

    /** @param next the first offset that was not read */
    record Position(String topic, int partition, long next, String metadata) {}

    /** @param bytes before compression */
    record Entry(String name, String sha256, long bytes) {}
}
