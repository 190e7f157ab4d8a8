package dev.rimecast.alerts.store;

import dev.rimecast.alerts.ice.IceOutlook;
import dev.rimecast.alerts.ice.IceWords;
import dev.rimecast.alerts.priority.Clocks;
import dev.rimecast.alerts.view.SiteIce;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.ZoneId;
import java.time.temporal.ChronoUnit;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** The ice clocks of sites as they were last reckoned. */
final class IceStore {
    private IceStore() {}

    /** One site's outlook. */
    record Row(Instant reckoned, Clocks.Ice ice, Optional<Instant> early, Optional<Instant> likely, String words) {}

    static Optional<Row> read(Handle handle, String site) {
        return handle.createQuery("select reckoned, ice, early, likely, words from ice_outlook where site = :site")
                .bind("site", site)
                .map((row, context) -> new Row(
                        row.getTimestamp(1).toInstant(),
                        Clocks.Ice.ofCode(row.getString(2)).orElseThrow(),
                        instant(row, 3),
                        instant(row, 4),
                        row.getString(5)))
                .findOne();
    }

    /** What the clocks of some sites say, by site; one without a clock is not in it. */
    static Map<String, SiteIce> bySite(Handle handle, Collection<String> sites) {
        Map<String, SiteIce> bySite = new HashMap<>();
        if (sites.isEmpty()) {
            return bySite;
        }
        handle.createQuery("select site, ice, words from ice_outlook where site = any(:sites)")
                .bindArray("sites", String.class, List.copyOf(sites))
                .map((row, context) -> Map.entry(
                        row.getString(1),
                        new SiteIce(Clocks.Ice.ofCode(row.getString(2)).orElseThrow(), row.getString(3))))
                .forEach(entry -> bySite.put(entry.getKey(), entry.getValue()));
        return bySite;
    }

    static void write(Handle handle, String site, IceOutlook outlook, ZoneId zone, Instant now) {
        Optional<IceOutlook.Short> out = outlook instanceof IceOutlook.Short s ? Optional.of(s) : Optional.empty();
        Clocks.Ice ice = out.isPresent()
                ? Clocks.Ice.SHORT
                : outlook instanceof IceOutlook.Enough ? Clocks.Ice.ENOUGH : Clocks.Ice.NOT_KNOWN;
        handle.createUpdate("""
                insert into ice_outlook (site, reckoned, ice, early, likely, late, kg_short, words)
                values (:site, :reckoned, :ice, :early, :likely, :late, :kg, :words)
                on conflict (site) do update set reckoned = excluded.reckoned, ice = excluded.ice,
                    early = excluded.early, likely = excluded.likely, late = excluded.late,
                    kg_short = excluded.kg_short, words = excluded.words""")
                .bind("site", site)
                .bind("reckoned", now)
                .bind("ice", ice.code())
                .bind("early", out.map(IceOutlook.Short::early).map(IceStore::toMinute))
                .bind("likely", out.flatMap(IceOutlook.Short::likely).map(IceStore::toMinute))
                .bind("late", out.flatMap(IceOutlook.Short::late).map(IceStore::toMinute))
                .bind("kg", out.map(IceOutlook.Short::kgShort))
                .bind("words", IceWords.of(outlook, zone))
                .execute();
    }

    static void remove(Handle handle, String site) {
        handle.createUpdate("delete from ice_outlook where site = :site")
                .bind("site", site)
                .execute();
    }

    private static Instant toMinute(Instant at) {
        return at.truncatedTo(ChronoUnit.MINUTES);
    }

    private static Optional<Instant> instant(ResultSet row, int column) throws SQLException {
        @Nullable Timestamp value = row.getTimestamp(column);
        return Optional.ofNullable(value).map(Timestamp::toInstant);
    }
}
