package dev.rimecast.alerts.store;

import dev.rimecast.alerts.silence.Closure;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Which sites and machines are closed by their own word, and what is made there. */
public final class ClosureQuery {
    /** Who says so again moves only the day on which it opens. What was moved meanwhile, or is gone, is closed no more. */
    private static final String STANDING = """
            select e.site, e.machine, min(e.happened), (array_agg(e.detail order by e.happened desc, e.id desc))[1]
            from site_event e join site s on s.id = e.site left join machine m on m.id = e.machine
            where e.kind = 'closed-from' and e.happened <= :now %s and (e.machine is null or m.site = e.site)
              and not exists (select from site_event t where t.site = e.site and t.kind = 'closed-to' and t.happened <= :now
                  and coalesce(t.machine, '') = coalesce(e.machine, '') and (t.happened, t.id) > (e.happened, e.id))
            group by e.site, e.machine order by e.site, e.machine""";

    /** How far back closures before this one are looked for: what is open has to be learned before the first of them. */
    private static final Duration SEASON = Duration.ofDays(200);

    private ClosureQuery() {}

    /** Those that stand. */
    public static List<Closure> standing(Handle handle, Instant now) {
        return handle.createQuery(STANDING.formatted(""))
                .bind("now", now)
                .map((row, context) -> closure(row))
                .list();
    }

    /** Those of some sites that stand. */
    public static List<Closure> standing(Handle handle, Collection<String> sites, Instant now) {
        return handle.createQuery(STANDING.formatted("and e.site = any(:sites)"))
                .bindArray("sites", String.class, List.copyOf(sites))
                .bind("now", now)
                .map((row, context) -> closure(row))
                .list();
    }

    private static Closure closure(ResultSet row) throws SQLException {
        return new Closure(
                row.getString(1),
                Optional.ofNullable(row.getString(2)),
                row.getTimestamp(3).toInstant(),
                row.getString(4));
    }

    /** The cycles of what is closed: in the last days, and before it closed, or before it closed the time before if there were more. */
    public static Closure.Made made(Handle handle, Closure closure, Instant now) {
        Instant halfway = now.minus(Closure.LOOKS_BACK.dividedBy(2));
        int open = closings(handle, closure).stream()
                .mapToInt(at -> cycles(handle, closure, at.minus(Closure.OPEN_DAYS), at))
                .max()
                .orElse(0);
        return new Closure.Made(
                open,
                cycles(handle, closure, now.minus(Closure.LOOKS_BACK), halfway),
                cycles(handle, closure, halfway, now));
    }

    private static List<Instant> closings(Handle handle, Closure closure) {
        return handle.createQuery("""
                select distinct happened from site_event where site = :site and coalesce(machine, '') = :machine
                    and kind = 'closed-from' and happened <= :since and happened > :season""")
                .bind("site", closure.site())
                .bind("machine", closure.machine().orElse(""))
                .bind("since", closure.since())
                .bind("season", closure.since().minus(SEASON))
                .map((row, context) -> row.getTimestamp(1).toInstant())
                .list();
    }

    private static int cycles(Handle handle, Closure closure, Instant from, Instant to) {
        return handle.createQuery("""
                select count(*) from cycle c join machine m on m.id = c.machine
                where m.site = :site and (:machine = '' or m.id = :machine) and c.complete
                    and c.freeze_start >= :from and c.freeze_start < :to""")
                .bind("site", closure.site())
                .bind("machine", closure.machine().orElse(""))
                .bind("from", from)
                .bind("to", to)
                .mapTo(Integer.class)
                .one();
    }
}
