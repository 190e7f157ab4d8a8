package dev.rimecast.alerts.store;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * The log of notices: what was told of a case goes as a whole, and only when the case has been closed, and the last of
 * its notices ended, for longer than the age. So nothing that waits goes, nor a beginning whose end is still to be told,
 * nor what decides whether a case that is open was announced.
 */
final class OldNotices implements OldRows {
    /** Cases at once; each has a few notices, each notice a few attempts. */
    private static final int MATTERS_AT_ONCE = 200;

    private final Duration age;

    OldNotices(Duration age) {
        this.age = age;
    }

    @Override
    public Step take(Handle handle, Instant now) {
        Instant limit = now.minus(age);
        List<UUID> matters = handle.createQuery("""
                select m.id from notice_matter m join alert_case c on c.id = m.case_id
                where m.is_over and m.since < :limit and c.closed_at < :limit
                    and not exists (select 1 from notice_delivery d where d.matter = m.id
                        and (d.ended_at is null or d.ended_at >= :limit))
                limit :most for update of m skip locked""")
                .bind("limit", limit)
                .bind("most", MATTERS_AT_ONCE)
                .mapTo(UUID.class)
                .list();
        List<UUID> gone = handle.createQuery("""
                delete from notice_delivery where id = any (array(
                    select id from notice_delivery where matter = any(:matters)
                    union all
                    (select id from notice_delivery where matter is null and ended_at < :limit limit :most)))
                returning id""")
                .bindArray("matters", UUID.class, matters)
                .bind("limit", limit)
                .bind("most", AT_MOST)
                .mapTo(UUID.class)
                .list();
        // After their notices: the log of attempts refuses to lose one of a notice that is there.
        int attempts = handle.createUpdate("delete from notice_attempt where delivery = any(:gone)")
                .bindArray("gone", UUID.class, gone)
                .execute();
        handle.createUpdate("delete from notice_matter where id = any(:matters)")
                .bindArray("matters", UUID.class, matters)
                .execute();
        // The newest digest of a name says when the next one is due.
        int digests = handle.createUpdate("delete from notice_digest d where d.at < :limit and exists"
                        + " (select 1 from notice_digest n where n.name = d.name and n.day > d.day)")
                .bind("limit", limit)
                .execute();
        long rows = (long) matters.size() + gone.size() + attempts + digests;
        return new Step(rows, matters.size() < MATTERS_AT_ONCE && gone.size() < AT_MOST);
    }
}
