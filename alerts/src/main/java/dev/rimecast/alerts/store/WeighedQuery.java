package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.WeighedHarvest;
import dev.rimecast.telemetry.cycle.CycleJson;
import dev.rimecast.telemetry.log.HarvestWeight;
import dev.rimecast.telemetry.machine.Machine;
import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;

/** Weighed harvests, each with the last whole cycle that ended around then. */
public final class WeighedQuery {
    private WeighedQuery() {}

    public static List<WeighedHarvest> ofMachine(Handle handle, SiteScope sites, Machine machine, int limit) {
        return handle.createQuery("""
                select e.happened, e.detail, e.who, (
                    select c.record from cycle c where c.machine = e.machine and c.complete
                      and c.ended <= e.happened + cast(:after as interval)
                      and c.ended >= e.happened - cast(:before as interval)
                    order by c.ended desc limit 1)
                from site_event e
                where e.machine = :machine and e.kind = 'harvest-weighed' and (:everySite or e.site = any(:sites))
                order by e.happened desc, e.id desc limit :limit""")
                .bind("machine", machine.id())
                .bind("after", WeighedHarvest.CYCLE_AFTER.toString())
                .bind("before", WeighedHarvest.CYCLE_BEFORE.toString())
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .bind("limit", limit)
                .map((row, context) -> weighed(row, machine.ratedKgPerDay()))
                .list();
    }

    private static WeighedHarvest weighed(ResultSet row, double ratedKgPerDay) throws SQLException {
        return WeighedHarvest.of(
                row.getTimestamp(1).toInstant(),
                HarvestWeight.kilograms(row.getString(2)).orElseThrow(),
                row.getString(3),
                ratedKgPerDay,
                Optional.ofNullable(row.getString(4))
                        .map(record -> CycleJson.decode(record.getBytes(StandardCharsets.UTF_8))));
    }
}
