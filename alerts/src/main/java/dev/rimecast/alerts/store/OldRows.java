package dev.rimecast.alerts.store;

import dev.rimecast.alerts.keep.Retention;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.jdbi.v3.core.Handle;

/** Rows of one kind that have an age. Keeps its place between steps; used by one thread. */
interface OldRows {
    /** Rows that one step takes at most: fractions of a second, and no long transaction. */
    int AT_MOST = 5_000;

    /**
     * @param rows that are gone
     * @param isLast whether no old row was left; the next step begins anew
     */
    record Step(long rows, boolean isLast) {}

    /** @param now when the round began; ages count back from it */
    Step take(Handle handle, Instant now);

    static List<OldRows> all(Retention ages) {
        return List.of(
                new OldOfMachines("rollup_5min", "bucket", "true", ages.temperatures()),
                new OldOfMachines("cycle", "freeze_start", "true", ages.cycles()),
                // The newest spell says how far the bin's readings have counted, and one without an end goes on.
                new OldOfMachines(
                        "bin_full",
                        "began",
                        "ended is not null and exists"
                                + " (select 1 from bin_full n where n.machine = t.machine and n.began > t.began)",
                        ages.cycles()),
                revisions(ages.cycles()),
                new OldNotices(ages.notices()));
    }

    /** How alerts developed that are over; the alert itself keeps its last finding. */
    private static OldRows revisions(Duration age) {
        return (handle, now) -> {
            int rows = handle.createUpdate("""
                    delete from finding_revision where ctid = any (array(
                        select r.ctid from alert a join finding_revision r on r.alert = a.id
                        where a.state = 'normal' and a.cleared_at < :limit limit :most))""")
                    .bind("limit", now.minus(age))
                    .bind("most", AT_MOST)
                    .execute();
            return new Step(rows, rows < AT_MOST);
        };
    }
}
