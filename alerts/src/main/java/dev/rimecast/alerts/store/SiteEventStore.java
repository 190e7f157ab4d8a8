package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Calls, visits, cleanings: what people reported. */
public final class SiteEventStore {
    /** Of these one job may have several at one time: the detail tells them apart. */
    private static final Set<EventKind> SEVERAL_A_JOB = EnumSet.of(EventKind.PART_REPLACED, EventKind.SITE_ANSWER);

    private static final String SELECT = "select id, happened, site, machine, kind, detail, who, job, entered_by,"
            + " entered_at, case_id from site_event ";
    private static final String IN_ORDER = """
            and (:everySite or site = any(:sites))
            and (:first or (happened, id) < (select happened, id from site_event where id = :before))
            order by happened desc, id desc limit :limit""";

    private SiteEventStore() {}

    /** Who put it in, and when. */
    public record Entry(String by, Instant at) {}

    /** @return the row's number */
    public static long add(Handle handle, String site, Happened event) {
        return add(handle, site, event, Optional.empty());
    }

    /** @return the row's number */
    public static long add(Handle handle, String site, Happened event, Optional<Entry> entry) {
        return handle.createUpdate("""
                insert into site_event (site, machine, happened, kind, detail, who, job, entered_by, entered_at)
                values (:site, :machine, :happened, :kind, :detail, :who, :job, :enteredBy, :enteredAt)""")
                .bind("site", site)
                .bind("machine", event.machine())
                .bind("happened", event.at())
                .bind("kind", event.kind().code())
                .bind("detail", event.detail())
                .bind("who", event.by())
                .bind("job", event.job())
                .bind("enteredBy", entry.map(Entry::by))
                .bind("enteredAt", entry.map(Entry::at))
                .executeAndReturnGeneratedKeys("id")
                .mapTo(Long.class)
                .one();
    }

    /** The report that says the same, by job number, kind, time and place. The caller holds the site's lock. */
    public static Optional<EventView> same(Handle handle, String site, Happened event) {
        boolean byJob = !event.job().isEmpty() && !SEVERAL_A_JOB.contains(event.kind());
        return handle.createQuery(SELECT + """
                where site = :site and coalesce(machine, '') = :machine and happened = :happened and kind = :kind
                  and job = :job and (:byJob or detail = :detail) order by id limit 1""")
                .bind("site", site)
                .bind("machine", event.machine().orElse(""))
                .bind("happened", event.at())
                .bind("kind", event.kind().code())
                .bind("job", event.job())
                .bind("byJob", byJob)
                .bind("detail", event.detail())
                .map((row, context) -> view(row))
                .findOne();
    }

    public static EventView one(Handle handle, long id) {
        return handle.createQuery(SELECT + "where id = :id")
                .bind("id", id)
                .map((row, context) -> view(row))
                .one();
    }

    /** A machine's, and those of its site as a whole; newest first. */
    public static List<EventView> ofMachine(
            Handle handle, SiteScope sites, String machine, Optional<Long> before, int limit) {
        return list(
                handle,
                "where (machine = :of or (machine is null and site = (select site from machine where id = :of)))",
                machine,
                sites,
                before,
                limit);
    }

    /** A site's and its machines'; newest first. */
    public static List<EventView> ofSite(
            Handle handle, SiteScope sites, String site, Optional<Long> before, int limit) {
        return list(handle, "where site = :of", site, sites, before, limit);
    }

    /** A machine's newest of each kind, in the order of the kinds. */
    public static List<EventView> newestOf(Handle handle, SiteScope sites, String machine, Set<EventKind> kinds) {
        return handle
                .createQuery("select distinct on (kind) * from (" + SELECT + """
                        where machine = :machine and kind = any(:kinds) and (:everySite or site = any(:sites))
                        ) as e order by kind, happened desc, id desc""")
                .bind("machine", machine)
                .bindArray(
                        "kinds",
                        String.class,
                        kinds.stream().map(EventKind::code).toList())
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .map((row, context) -> view(row))
                .stream()
                .sorted(Comparator.comparing(EventView::kind))
                .toList();
    }

    private static List<EventView> list(
            Handle handle, String where, String of, SiteScope sites, Optional<Long> before, int limit) {
        return handle.createQuery(SELECT + where + " " + IN_ORDER)
                .bind("of", of)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .bind("first", before.isEmpty())
                .bind("before", before.orElse(0L))
                .bind("limit", limit)
                .map((row, context) -> view(row))
                .list();
    }

    private static EventView view(ResultSet row) throws SQLException {
        @Nullable Timestamp entered = row.getTimestamp(10);
        return new EventView(
                row.getLong(1),
                row.getTimestamp(2).toInstant(),
                row.getString(3),
                Optional.ofNullable(row.getString(4)),
                EventKind.ofCode(row.getString(5)).orElseThrow(),
                row.getString(6),
                row.getString(7),
                row.getString(8),
                Optional.ofNullable(row.getString(9)),
                Optional.ofNullable(entered).map(Timestamp::toInstant),
                Optional.ofNullable(row.getObject(11, UUID.class)));
    }
}
