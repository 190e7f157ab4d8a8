package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.send.Outcome;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Table {@code notice_delivery}: what leaves, and how that went. */
final class ClaimStore {
    /** Renewed while an attempt lasts. When it has passed, the process that had the notice is gone. */
    static final Duration LEASE = Duration.ofMinutes(2);

    private ClaimStore() {}

    /**
     * A notice that is this process's to send.
     *
     * @param attempt counts from 1; a result is taken only while it is the latest
     * @param content of an earlier attempt, or as it was planned
     * @param siteLink the link that it brings, for one that does
     * @param target where it goes, as it was planned
     */
    record Claim(
            UUID id,
            Kind kind,
            Optional<UUID> matter,
            String receiver,
            int attempt,
            Optional<String> content,
            Optional<UUID> siteLink,
            String target) {}

    /** The same order that {@link dev.rimecast.alerts.notice.Delivery#isItsTurn} has, and nobody who is blocked. */
    private static final String NEXT = """
            select d.id, d.kind, d.matter, d.receiver, d.attempts, d.content, d.site_link, d.target from notice_delivery d
            where ((d.state = 'waiting' and d.next_at <= :now) or (d.state = 'sending' and d.leased_until <= :now))
                and d.receiver <> all(:blocked) and not (:mail and d.kind = 'link')
                and not exists (select 1 from notice_delivery o where o.receiver = d.receiver and o.id <> d.id
                    and o.state = 'sending' and o.leased_until > :now)
                and not exists (select 1 from notice_delivery e where e.matter = d.matter and e.receiver = d.receiver
                    and e.sequence < d.sequence and e.state in ('waiting', 'sending'))
                and (d.kind <> 'over' or exists (select 1 from notice_delivery e where e.matter = d.matter
                    and e.receiver = d.receiver and e.kind in ('raised', 'worse') and e.state = 'sent'))
                and (d.kind = 'test' or not exists (select 1 from notice_receiver_closed c where c.name = d.receiver))
                and d.goes_with is null
                and not (d.channel = 'mail' and d.common is not null and d.attempts = 0 and d.next_at > :lately and (
                    select count(*) from notice_delivery o where o.receiver = d.receiver and o.common = d.common
                        and o.kind = d.kind and o.state = 'sent' and o.goes_with is null and o.ended_at > :lately)
                    >= :single)
            order by d.next_at, d.sequence limit 1 for update skip locked""";

    /** What waits for the same receiver, says the same of another site, and would be next by itself, too. */
    private static final String COMPANIONS = """
            select d.id, d.matter from notice_delivery d join notice_delivery l on l.id = :id
            where d.id <> l.id and l.channel = 'mail' and d.channel = 'mail' and d.receiver = l.receiver
                and d.kind = l.kind and d.common = l.common and d.target = l.target
                and d.state = 'waiting' and d.attempts = 0 and d.content is null and d.next_at <= :now
                and d.created_at between l.created_at - interval '1 hour' and l.created_at + interval '1 hour'
                and not exists (select 1 from notice_delivery e where e.matter = d.matter and e.receiver = d.receiver
                    and e.sequence < d.sequence and e.state in ('waiting', 'sending'))
                and (d.kind <> 'over' or exists (select 1 from notice_delivery e where e.matter = d.matter
                    and e.receiver = d.receiver and e.kind in ('raised', 'worse') and e.state = 'sent'))
            order by d.next_at, d.sequence limit :most for update of d skip locked""";

    /** @param blocked whom this process sends nothing more at the moment */
    static Optional<Claim> next(Handle handle, UnderWay.Blocked blocked, Instant now) {
        return handle.createQuery(NEXT)
                .bind("now", now)
                .bindArray("blocked", String.class, blocked.receivers())
                .bind("mail", blocked.mail())
                .bind("lately", now.minus(Together.LATELY))
                .bind("single", Together.SINGLE)
                .map((row, context) -> new Claim(
                        row.getObject(1, UUID.class),
                        Kind.valueOf(row.getString(2).toUpperCase(Locale.ROOT)),
                        Optional.ofNullable(row.getObject(3, UUID.class)),
                        row.getString(4),
                        row.getInt(5) + 1,
                        Optional.ofNullable(row.getString(6)),
                        Optional.ofNullable(row.getObject(7, UUID.class)),
                        row.getString(8)))
                .findOne();
    }

    /** A notice that goes in the mail of another one. */
    record Companion(UUID id, UUID matter) {}

    static List<Companion> companions(Handle handle, Claim claim, Instant now) {
        return handle.createQuery(COMPANIONS)
                .bind("id", claim.id())
                .bind("now", now)
                .bind("most", Together.MOST - 1)
                .map((row, context) -> new Companion(row.getObject(1, UUID.class), row.getObject(2, UUID.class)))
                .list();
    }

    static void take(Handle handle, Claim claim, String content, Instant now) {
        handle.createUpdate("""
                update notice_delivery set state = 'sending', attempts = :attempt, leased_until = :until,
                    content = coalesce(content, cast(:content as jsonb)) where id = :id or goes_with = :id""")
                .bind("id", claim.id())
                .bind("attempt", claim.attempt())
                .bind("until", now.plus(LEASE))
                .bind("content", content)
                .execute();
    }

    /** From here on they go where the claimed one goes, whatever comes of it. */
    static void join(Handle handle, Claim claim, Collection<Companion> companions, String content) {
        handle.createUpdate("""
                update notice_delivery set goes_with = :with, content = cast(:content as jsonb)
                where id = any(:ids)""")
                .bind("with", claim.id())
                .bind("content", content)
                .bindArray(
                        "ids",
                        UUID.class,
                        companions.stream().map(Companion::id).toList())
                .execute();
    }

    /** Holds what is still being sent. */
    static void renew(Handle handle, Collection<Claim> claims, Instant now) {
        claims.forEach(claim -> handle.createUpdate("""
                update notice_delivery set leased_until = :until
                where (id = :id or goes_with = :id) and state = 'sending' and attempts = :attempt""")
                .bind("id", claim.id())
                .bind("attempt", claim.attempt())
                .bind("until", now.plus(LEASE))
                .execute());
    }

    /**
     * Writes a result, unless another attempt has begun meanwhile.
     *
     * @param again when it is tried again; empty where it is not
     */
    static void finish(Handle handle, Claim claim, Outcome outcome, Optional<Instant> again, Instant now) {
        boolean isSent = outcome instanceof Outcome.Sent;
        String state = isSent ? "sent" : again.isPresent() ? "waiting" : "failed";
        List<UUID> written = handle.createUpdate("""
                update notice_delivery set state = :state, leased_until = null, detail = :detail,
                    next_at = coalesce(:again, next_at), ended_at = :ended
                where (id = :id or goes_with = :id) and state = 'sending' and attempts = :attempt""")
                .bind("id", claim.id())
                .bind("attempt", claim.attempt())
                .bind("state", state)
                .bind("detail", outcome.detail())
                .bind("again", again)
                .bind("ended", again.isPresent() ? Optional.empty() : Optional.of(now))
                .executeAndReturnGeneratedKeys("id")
                .mapTo(UUID.class)
                .list();
        if (!written.contains(claim.id())) {
            log(handle, claim.id(), now, "notices", "late", outcome.detail());
        }
        written.forEach(id -> log(handle, id, now, "notices", state, outcome.detail()));
    }

    /** It has ended before it left, whether for the first time or again after a process that had it is gone. */
    static void end(Handle handle, Claim claim, String state, String why, Instant now) {
        handle.createUpdate("""
                update notice_delivery set state = :state, leased_until = null, detail = :why, ended_at = :now
                where (id = :id or goes_with = :id) and state in ('waiting', 'sending')""")
                .bind("id", claim.id())
                .bind("state", state)
                .bind("why", why)
                .bind("now", now)
                .execute();
        log(handle, claim.id(), now, "notices", state, why);
    }

    static void log(Handle handle, UUID delivery, Instant at, String who, String outcome, String detail) {
        handle.createUpdate("""
                insert into notice_attempt (delivery, at, who, outcome, detail)
                values (:delivery, :at, :who, :outcome, :detail)""")
                .bind("delivery", delivery)
                .bind("at", at)
                .bind("who", who)
                .bind("outcome", outcome)
                .bind("detail", detail)
                .execute();
    }

    static void close(Handle handle, String receiver, String target, String why, Instant now) {
        handle.createUpdate("""
                insert into notice_receiver_closed (name, target, at, why) values (:name, :target, :at, :why)
                on conflict (name) do update set target = excluded.target, at = excluded.at, why = excluded.why""")
                .bind("name", receiver)
                .bind("target", target)
                .bind("at", now)
                .bind("why", why)
                .execute();
    }

    static void open(Handle handle, String receiver) {
        handle.createUpdate("delete from notice_receiver_closed where name = :name")
                .bind("name", receiver)
                .execute();
    }
}
