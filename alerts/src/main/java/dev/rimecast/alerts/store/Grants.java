package dev.rimecast.alerts.store;

import java.util.List;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.Jdbi;

/**
 * What the application's role may do: read and write rows, and nothing to the schema. Tables that only grow, as their triggers have it,
 * are read and added to. Whoever has taken over the process can neither change the audit nor take its triggers off.
 */
final class Grants {
    private static final String LOCK = "select pg_advisory_xact_lock(hashtextextended('rimecast grants', 0))";

    /** Kinds of change that a trigger of a table refuses for every row; bits of tgtype as in PostgreSQL's pg_trigger.h. */
    private static final String REFUSED = """
            select quote_ident(c.relname) as name, bool_or(t.tgtype & 8 <> 0) as no_delete,
                   bool_or(t.tgtype & 16 <> 0) as no_update
            from pg_trigger t
            join pg_class c on c.oid = t.tgrelid
            join pg_proc p on p.oid = t.tgfoid
            where p.proname = 'refuse_change' and c.relnamespace = current_schema()::regnamespace
              and t.tgtype & 1 <> 0 and t.tgqual is null and t.tgattr = ''::int2vector
            group by c.relname order by c.relname""";

    private Grants() {}

    private record Refused(String name, boolean noDelete, boolean noUpdate) {}

    /** @param owner as whom the schema was brought level */
    static void give(Jdbi owner, String application) {
        owner.useTransaction(handle -> {
            handle.createQuery(LOCK).mapTo(String.class).list();
            String to = quoted(handle, "select quote_ident(:name)", application);
            String schema = quoted(handle, "select quote_ident(current_schema()) || left(:name, 0)", "");
            handle.execute("grant usage on schema " + schema + " to " + to);
            handle.execute("grant select, insert, update, delete on all tables in schema " + schema + " to " + to);
            handle.execute("grant usage, select on all sequences in schema " + schema + " to " + to);
            handle.execute("revoke insert, update, delete on flyway_schema_history from " + to);
            for (Refused table : refused(handle)) {
                if (table.noDelete()) {
                    handle.execute("revoke delete on " + table.name() + " from " + to);
                }
                if (table.noUpdate()) {
                    handle.execute("revoke update on " + table.name() + " from " + to);
                }
            }
        });
    }

    private static List<Refused> refused(Handle handle) {
        return handle.createQuery(REFUSED)
                .map((row, context) ->
                        new Refused(row.getString("name"), row.getBoolean("no_delete"), row.getBoolean("no_update")))
                .list();
    }

    private static String quoted(Handle handle, String sql, String name) {
        return handle.createQuery(sql).bind("name", name).mapTo(String.class).one();
    }
}
