package dev.rimecast.alerts.register;

import dev.rimecast.alerts.store.CaseStore;
import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.Outbox;
import dev.rimecast.alerts.store.RegisterStore;
import dev.rimecast.alerts.store.SiteEventStore;
import dev.rimecast.alerts.store.SiteLocks;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.util.List;
import org.jdbi.v3.core.Handle;

/** Calls, visits, cleanings and whatever else no probe can see: into the database, a call's case, and the site's log. */
public final class SiteEvents {
    private final Database database;
    private final CaseStore cases;
    private final Runnable wakePublisher;

    public SiteEvents(Database database, CaseStore cases, Runnable wakePublisher) {
        this.database = database;
        this.cases = cases;
        this.wakePublisher = wakePublisher;
    }

    /**
     * Returns once it is stored; it reaches the site's log soon after, and does so even if the process ends now.
     *
     * @throws IllegalArgumentException if there is no such site, or the machine does not stand on it
     */
    public void report(Happened event, String site) {
        database.jdbi().useTransaction(handle -> {
            check(handle, event, site);
            SiteLocks.take(handle, List.of(site));
            long row = SiteEventStore.add(handle, site, event);
            if (event.kind() == EventKind.CALL) {
                cases.call(handle, site, row, event);
            }
            Outbox.toSite(handle, site, event);
        });
        wakePublisher.run();
    }

    private static void check(Handle handle, Happened event, String site) {
        if (RegisterStore.site(handle, site).isEmpty()) {
            throw new IllegalArgumentException("there is no site " + site);
        }
        event.machine().ifPresent(id -> {
            String at = RegisterStore.machine(handle, id)
                    .orElseThrow(() -> new IllegalArgumentException("there is no machine " + id))
                    .site();
            if (!at.equals(site)) {
                throw new IllegalArgumentException("machine " + id + " stands on site " + at + ", not on " + site);
            }
        });
    }
}
