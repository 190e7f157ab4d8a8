package dev.rimecast.alerts.store;

import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** How far each partition of a topic has been taken in; written in the transaction of what was taken in. */
public final class OffsetStore {
    private OffsetStore() {}

    /**
     * Where a partition stands.
     *
     * @param topicId Kafka's id of the topic, another one when the log is begun anew
     * @param next the first offset that was not taken in yet
     */
    public record Position(String topicId, long next) {}

    public static Optional<Position> read(Handle handle, String topic, int partition) {
        return handle.createQuery(
                        "select topic_id, next_offset from consumer_offset where topic = :topic and partition = :partition")
                .bind("topic", topic)
                .bind("partition", partition)
                .map((row, context) -> new Position(row.getString(1), row.getLong(2)))
                .findOne();
    }

    /** Takes a partition over at a position, whoever had it before. */
    public static void place(Handle handle, String topic, int partition, Position position) {
        handle.createUpdate("""
                insert into consumer_offset (topic, partition, topic_id, next_offset)
                values (:topic, :partition, :topicId, :next)
                on conflict (topic, partition) do update
                set topic_id = excluded.topic_id, next_offset = excluded.next_offset""")
                .bind("topic", topic)
                .bind("partition", partition)
                .bind("topicId", position.topicId())
                .bind("next", position.next())
                .execute();
    }

    /**
     * Moves a partition on.
     *
     * @throws OffsetMovedException if it does not stand at {@code from}: somebody else has taken the same records in
     */
    public static void advance(Handle handle, String topic, int partition, Position from, long next) {
        int moved = handle.createUpdate("""
                update consumer_offset set next_offset = :next
                where topic = :topic and partition = :partition and topic_id = :topicId and next_offset = :from""")
                .bind("topic", topic)
                .bind("partition", partition)
                .bind("topicId", from.topicId())
                .bind("from", from.next())
                .bind("next", next)
                .execute();
        if (moved != 1) {
            throw new OffsetMovedException(topic + '-' + partition + " does not stand at " + from.next()
                    + " any more: another instance reads it, too");
        }
    }
}
