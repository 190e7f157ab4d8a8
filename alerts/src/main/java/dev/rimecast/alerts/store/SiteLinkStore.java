package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.SiteLinkView.Answered;
import dev.rimecast.alerts.view.SiteScope;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Links of sites and what was answered by them. */
public final class SiteLinkStore {
    private static final String SELECT = "select id, case_id, site, machine, made_by, made_at, ends_at, revoked_by,"
            + " called_at, mailed_to from site_link ";

    private SiteLinkStore() {}

    /**
     * A link.
     *
     * @param calledAt when "still no ice" was passed on as a call
     * @param mailedTo the address that it went to; empty for one that a person passed on
     */
    public record Row(
            UUID id,
            UUID caseId,
            String site,
            String machine,
            String madeBy,
            Instant madeAt,
            Instant endsAt,
            Optional<String> revokedBy,
            Optional<Instant> calledAt,
            Optional<String> mailedTo) {
        static Row of(ResultSet row) throws SQLException {
            @Nullable Timestamp called = row.getTimestamp(9);
            return new Row(
                    row.getObject(1, UUID.class),
                    row.getObject(2, UUID.class),
                    row.getString(3),
                    row.getString(4),
                    row.getString(5),
                    row.getTimestamp(6).toInstant(),
                    row.getTimestamp(7).toInstant(),
                    Optional.ofNullable(row.getString(8)),
                    Optional.ofNullable(called).map(Timestamp::toInstant),
                    Optional.ofNullable(row.getString(10)));
        }
    }

    /** Puts a new link in; older ones of the same case and machine are revoked by it. */
    public static void add(Handle handle, Row link) {
        handle.createUpdate("""
                update site_link set revoked_by = :who, revoked_at = :at
                where case_id = :case and machine = :machine and revoked_at is null and ends_at > :at""")
                .bind("who", link.madeBy())
                .bind("at", link.madeAt())
                .bind("case", link.caseId())
                .bind("machine", link.machine())
                .execute();
        handle.createUpdate("""
                insert into site_link (id, case_id, site, machine, made_by, made_at, ends_at, mailed_to)
                values (:id, :case, :site, :machine, :by, :at, :ends, :mailedTo)""")
                .bind("id", link.id())
                .bind("mailedTo", link.mailedTo())
                .bind("case", link.caseId())
                .bind("site", link.site())
                .bind("machine", link.machine())
                .bind("by", link.madeBy())
                .bind("at", link.madeAt())
                .bind("ends", link.endsAt())
                .execute();
        CaseChanges.note(
                handle,
                link.caseId(),
                link.madeAt(),
                link.madeBy(),
                "site asked",
                "about " + link.machine()
                        + link.mailedTo().map(to -> ", by mail to " + to).orElse(""));
    }

    /** One more secret that opens a link: of a link that is shown there is one, of a mail one for each attempt. */
    public static void addSecret(Handle handle, UUID link, byte[] tokenHash, Instant at) {
        handle.createUpdate("insert into site_link_secret (token_hash, link, made_at) values (:hash, :link, :at)")
                .bind("hash", tokenHash)
                .bind("link", link)
                .bind("at", at)
                .execute();
    }

    public static Optional<Row> find(Handle handle, byte[] tokenHash) {
        return handle.createQuery(SELECT + "where id = (select link from site_link_secret where token_hash = :hash)")
                .bind("hash", tokenHash)
                .map((row, context) -> Row.of(row))
                .findOne();
    }

    /** The same; nobody else answers by it until the transaction ends. The lock of its site is taken first. */
    public static Optional<Row> locked(Handle handle, byte[] tokenHash) {
        Optional<Row> found = find(handle, tokenHash);
        found.ifPresent(link -> SiteLocks.take(handle, List.of(link.site())));
        return found.flatMap(link -> find(handle, tokenHash));
    }

    public static Optional<Row> find(Handle handle, UUID id) {
        return handle.createQuery(SELECT + "where id = :id")
                .bind("id", id)
                .map((row, context) -> Row.of(row))
                .findOne();
    }

    public static List<Row> since(Handle handle, SiteScope sites, Instant from) {
        return handle.createQuery(SELECT + "where made_at >= :from and (:everySite or site = any(:sites))"
                        + " order by made_at desc, id limit 500")
                .bind("from", from)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .map((row, context) -> Row.of(row))
                .list();
    }

    /** Returns whether it was open until now. */
    public static boolean revoke(Handle handle, Row link, String who, Instant at) {
        boolean revoked = handle.createUpdate("""
                        update site_link set revoked_by = :who, revoked_at = :at
                        where id = :id and revoked_at is null and ends_at > :at""")
                        .bind("who", who)
                        .bind("at", at)
                        .bind("id", link.id())
                        .execute()
                > 0;
        if (revoked) {
            CaseChanges.note(handle, link.caseId(), at, who, "site link revoked", "about " + link.machine());
        }
        return revoked;
    }

    public static List<Answered> answers(Handle handle, UUID link) {
        return handle.createQuery(
                        "select check_id, about, words, puts_right, at from site_link_answer where link = :link order by step")
                .bind("link", link)
                .map((row, context) -> new Answered(
                        row.getString(1),
                        row.getString(2),
                        row.getString(3),
                        row.getBoolean(4),
                        row.getTimestamp(5).toInstant()))
                .list();
    }

    /** Keeps an answer; the case's history tells of it. */
    public static void answered(Handle handle, Row link, int step, Answered said, String code) {
        handle.createUpdate("""
                insert into site_link_answer (link, step, check_id, answer, about, words, puts_right, at)
                values (:link, :step, :check, :answer, :about, :words, :right, :at)""")
                .bind("link", link.id())
                .bind("step", step)
                .bind("check", said.check())
                .bind("answer", code)
                .bind("about", said.about())
                .bind("words", said.words())
                .bind("right", said.putsRight())
                .bind("at", said.at())
                .execute();
        CaseChanges.note(handle, link.caseId(), said.at(), "site", "site answered", said.about() + ": " + said.words());
    }

    public static void called(Handle handle, UUID link, Instant at) {
        handle.createUpdate("update site_link set called_at = :at where id = :id")
                .bind("at", at)
                .bind("id", link)
                .execute();
    }

    /** Complete cycles of a machine that began at or after a time. */
    public static int cyclesSince(Handle handle, String machine, Instant from) {
        return handle.createQuery("select count(*) from cycle where machine = :machine and complete"
                        + " and freeze_start >= :from")
                .bind("machine", machine)
                .bind("from", from)
                .mapTo(Integer.class)
                .one();
    }

    /** Whether an engineer's work on the machine is recorded since then. */
    public static boolean isVisitedSince(Handle handle, String machine, Instant from) {
        return handle.createQuery("""
                select exists(select from site_event where machine = :machine and happened >= :from
                    and kind in ('visit', 'part-replaced', 'sensor-replaced', 'controller-replaced', 'exchanged'))""")
                .bind("machine", machine)
                .bind("from", from)
                .mapTo(Boolean.class)
                .one();
    }
}
