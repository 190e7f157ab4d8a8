package dev.rimecast.alerts.store;

import dev.rimecast.alerts.silence.Closure;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Which sites and machines are closed by their own word, and what is made there. */
public final class ClosureQuery {
    /** The last word of the site, or of the machine alone, decides. */
    private static final String LAST_WORDS = """
            select distinct on (site, coalesce(machine, '')) site, machine, happened, detail, kind
            from site_event where kind in ('closed-from', 'closed-to') and happened <= :now %s
            order by site, coalesce(machine, ''), happened desc, id desc""";

    private ClosureQuery() {}

    /** Those that stand. */
    public static List<Closure> standing(Handle handle, Instant now) {
        return handle.createQuery("select site, machine, happened, detail from (" + LAST_WORDS.formatted("")
                        + ") said where kind = 'closed-from'")
                .bind("now", now)
                .map((row, context) -> closure(row))
                .list();
    }

    /** Those of some sites that stand. */
    static List<Closure> standing(Handle handle, Collection<String> sites, Instant now) {
        return handle.createQuery("select site, machine, happened, detail from ("
                        + LAST_WORDS.formatted("and site = any(:sites)") + ") said where kind = 'closed-from'")
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

    /** The cycles of what is closed: before it closed, and in the last days. */
    public static Closure.Made made(Handle handle, Closure closure, Instant now) {
        Instant halfway = now.minus(Closure.LOOKS_BACK.dividedBy(2));
        return handle.createQuery("""
                select count(*) filter (where c.ended < :since),
                    count(*) filter (where c.ended >= :back and c.ended < :halfway),
                    count(*) filter (where c.ended >= :halfway)
                from cycle c join machine m on m.id = c.machine
                where m.site = :site and (:machine = '' or m.id = :machine) and c.complete
                    and ((c.freeze_start >= :open and c.ended < :since) or (c.ended >= :back and c.ended <= :now))""")
                .bind("since", closure.since())
                .bind("open", closure.since().minus(Closure.OPEN_DAYS))
                .bind("back", now.minus(Closure.LOOKS_BACK))
                .bind("halfway", halfway)
                .bind("now", now)
                .bind("site", closure.site())
                .bind("machine", closure.machine().orElse(""))
                .map((row, context) -> new Closure.Made(row.getInt(1), row.getInt(2), row.getInt(3)))
                .one();
    }
}
