package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Channel;
import dev.rimecast.alerts.notice.Delivery;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.Receiver;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Table {@code notice_delivery}: what the rules plan, and what they look at. */
final class DeliveryStore {
    private DeliveryStore() {}

    /** Notices of a matter in the order of planning, locked until the transaction ends. */
    static List<Delivery> locked(Handle handle, UUID matter) {
        return handle.createQuery("""
                select id, kind, telling, route, step, receiver, state, attempts, due_at from notice_delivery
                where matter = :matter order by sequence for update""")
                .bind("matter", matter)
                .map((row, context) -> new Delivery(
                        row.getObject(1, UUID.class),
                        Delivery.Kind.valueOf(row.getString(2).toUpperCase(Locale.ROOT)),
                        row.getInt(3),
                        row.getString(4),
                        row.getInt(5),
                        row.getString(6),
                        Delivery.State.valueOf(row.getString(7).toUpperCase(Locale.ROOT)),
                        row.getInt(8),
                        row.getTimestamp(9).toInstant()))
                .list();
    }

    /** @param content where it is fixed already, as for a digest */
    static void insert(
            Handle handle,
            Delivery delivery,
            Optional<UUID> matter,
            Optional<String> site,
            NoticeBook book,
            Optional<String> content,
            Instant now) {
        Optional<Channel> channel = book.receiver(delivery.receiver()).map(Receiver::channel);
        handle.createUpdate("""
                insert into notice_delivery (id, matter, site, kind, telling, route, step, receiver, channel, target,
                    created_at, due_at, next_at, state, content, common)
                values (:id, :matter, :site, :kind, :telling, :route, :step, :receiver, :channel, :target,
                    :now, :due, :due, 'waiting', cast(:content as jsonb),
                    (select c.common from notice_matter m join alert_case c on c.id = m.case_id where m.id = :matter))
                on conflict (id) do nothing""")
                .bind("id", delivery.id())
                .bind("matter", matter)
                .bind("site", site)
                .bind("kind", delivery.kind().code())
                .bind("telling", delivery.telling())
                .bind("route", delivery.route())
                .bind("step", delivery.step())
                .bind("receiver", delivery.receiver())
                .bind("channel", channel.map(Channel::word).orElse("unknown"))
                .bind("target", channel.map(Channel::target).orElse(""))
                .bind("now", now)
                .bind("due", delivery.dueAt())
                .bind("content", content)
                .execute();
    }

    static void cancel(Handle handle, Collection<UUID> ids, String why, Instant now) {
        if (ids.isEmpty()) {
            return;
        }
        handle.createUpdate("""
                update notice_delivery set state = 'cancelled', ended_at = :now, leased_until = null, detail = :why
                where id = any(:ids) and state = 'waiting'""")
                .bindArray("ids", UUID.class, ids)
                .bind("why", why)
                .bind("now", now)
                .execute();
    }

    static void release(Handle handle, Collection<UUID> ids, Instant now) {
        if (ids.isEmpty()) {
            return;
        }
        handle.createUpdate("""
                update notice_delivery set due_at = :now, next_at = :now
                where id = any(:ids) and state = 'waiting' and attempts = 0""")
                .bindArray("ids", UUID.class, ids)
                .bind("now", now)
                .execute();
    }

    /** Ends of which no beginning has arrived, or ever will. */
    static void cancelOrphans(Handle handle, Instant now) {
        handle.createUpdate("""
                update notice_delivery d set state = 'cancelled', ended_at = :now, detail = :why
                where d.state = 'waiting' and d.kind = 'over' and not exists (
                    select 1 from notice_delivery e where e.matter = d.matter and e.receiver = d.receiver
                        and e.kind in ('raised', 'worse') and e.state in ('waiting', 'sending', 'sent'))""")
                .bind("now", now)
                .bind("why", "the receiver was never told that it had begun")
                .execute();
    }

    /** What is for a receiver that is closed, or that the file no longer has. */
    static void failUnreachable(Handle handle, Collection<String> known, Instant now) {
        handle.createUpdate("""
                update notice_delivery d set state = 'failed', ended_at = :now, detail = case
                    when d.receiver = any(:known) then 'the receiver had asked for nothing more; a test opens it again'
                    else 'notices.yaml has no such receiver any more' end
                where d.state = 'waiting' and d.kind not in ('test', 'link') and (d.receiver <> all(:known)
                    or exists (select 1 from notice_receiver_closed c where c.name = d.receiver))""")
                .bindArray("known", String.class, known)
                .bind("now", now)
                .execute();
    }
}
