package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.log.SiteLogCodec;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.Topics;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Records on their way into Kafka, written in the transaction of what they say. */
public final class Outbox {
    /** Tells our advisory locks on keys from others in the same database. */
    private static final int LOCK_SPACE = 0x52494d45;

    private static final int LOCKS = 64;

    private Outbox() {}

    /**
     * A record that waits.
     *
     * @param value absent ends the key in a compacted topic
     */
    public record Waiting(long id, String topic, String key, Optional<byte[]> value) {}

    /** Into a site's log. */
    public static void toSite(Handle handle, String site, SiteRecord content) {
        put(handle, Topics.SITES, site, Optional.of(SiteLogCodec.encode(content)));
    }

    /** Into a compacted topic, where the newest value of a key stands. */
    public static void toCompacted(Handle handle, String topic, String key, Optional<SiteRecord> content) {
        put(handle, topic, key, content.map(SiteLogCodec::encode));
    }

    /** Into the topic of the keys of gateways, where the newest value of a gateway stands. */
    static void toCredentials(Handle handle, String gateway, byte[] keys) {
        put(handle, Topics.CREDENTIALS, gateway, Optional.of(keys));
    }

    /**
     * Into a topic that others listen to. The caller holds a lock that puts the writers of a key in order, e.g. the
     * site's.
     */
    static void toListeners(Handle handle, String topic, String key, byte[] value) {
        handle.createUpdate("insert into log_outbox (topic, key, value) values (:topic, :key, :value)")
                .bind("topic", topic)
                .bind("key", key)
                .bind("value", value)
                .execute();
    }

    private static void put(Handle handle, String topic, String key, Optional<byte[]> value) {
        // Held until the commit: numbers are given at the insert, and another writer of this key must not get a later
        // number and commit first. Keys share locks, since the server has room for a few thousand at a time.
        handle.createUpdate("""
                        with held as materialized (select pg_advisory_xact_lock(:space, mod(hashtext(:locked), :locks)))
                        insert into log_outbox (topic, key, value) select :topic, :key, :value from held""")
                .bind("space", LOCK_SPACE)
                .bind("locked", topic + ' ' + key)
                .bind("locks", LOCKS)
                .bind("topic", topic)
                .bind("key", key)
                .bind("value", value)
                .execute();
    }

    /**
     * Whether this transaction may publish; another instance that is at it holds the lock until it commits.
     */
    public static boolean lockForPublishing(Handle handle) {
        return handle.createQuery("select pg_try_advisory_xact_lock(hashtextextended('rimecast outbox', 0))")
                .mapTo(Boolean.class)
                .one();
    }

    /** The oldest, in order. */
    public static List<Waiting> oldest(Handle handle, int limit) {
        return handle.createQuery("select id, topic, key, value from log_outbox order by id limit :limit")
                .bind("limit", limit)
                .map((row, context) -> new Waiting(
                        row.getLong(1), row.getString(2), row.getString(3), Optional.ofNullable(row.getBytes(4))))
                .list();
    }

    public static void remove(Handle handle, Collection<Long> ids) {
        handle.createUpdate("delete from log_outbox where id = any(:ids)")
                .bindArray("ids", Long.class, ids)
                .execute();
    }

    /** The newest record that waits for a topic; 0 where none does. */
    public static long newest(Handle handle, String topic) {
        return handle.createQuery("select coalesce(max(id), 0) from log_outbox where topic = :topic")
                .bind("topic", topic)
                .mapTo(Long.class)
                .one();
    }

    /** Whether a record for the topic waits that is no newer than that one. */
    public static boolean waits(Handle handle, String topic, long newest) {
        return handle.createQuery("select exists (select from log_outbox where topic = :topic and id <= :newest)")
                .bind("topic", topic)
                .bind("newest", newest)
                .mapTo(Boolean.class)
                .one();
    }

    public static long size(Handle handle) {
        return handle.createQuery("select count(*) from log_outbox")
                .mapTo(Long.class)
                .one();
    }
}
