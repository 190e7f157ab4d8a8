package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.log.SiteRecord.Happened;
import org.jdbi.v3.core.Handle;

/** Calls, visits, cleanings: what people reported. */
public final class SiteEventStore {
    private SiteEventStore() {}

    /** @return the row's number */
    public static long add(Handle handle, String site, Happened event) {
        return handle.createUpdate("""
                insert into site_event (site, machine, happened, kind, detail, who, job)
                values (:site, :machine, :happened, :kind, :detail, :who, :job)""")
                .bind("site", site)
                .bind("machine", event.machine())
                .bind("happened", event.at())
                .bind("kind", event.kind().code())
                .bind("detail", event.detail())
                .bind("who", event.by())
                .bind("job", event.job())
                .executeAndReturnGeneratedKeys("id")
                .mapTo(Long.class)
                .one();
    }
}
