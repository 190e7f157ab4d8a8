package dev.rimecast.alerts.store;

import java.util.Collection;
import java.util.List;
import org.jdbi.v3.core.Handle;

/**
 * Who changes alerts, holds or cases of a site holds the site's lock first, so that no two wait for each other's rows.
 * Sites share locks, since the server has room for a few thousand at a time.
 */
public final class SiteLocks {
    private static final int LOCK_SPACE = 0x53495445;
    private static final int LOCKS = 64;

    private SiteLocks() {}

    /** Held until the transaction ends. To be called once in a transaction: the locks are taken in order. */
    public static void take(Handle handle, Collection<String> sites) {
        List<Integer> locks = sites.stream()
                .map(site -> Math.floorMod(site.hashCode(), LOCKS))
                .distinct()
                .sorted()
                .toList();
        for (int lock : locks) {
            handle.createQuery("select pg_advisory_xact_lock(:space, :lock)")
                    .bind("space", LOCK_SPACE)
                    .bind("lock", lock)
                    .map((row, context) -> lock)
                    .list();
        }
    }
}
