package dev.rimecast.alerts.store;

import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.jdbi.v3.core.Handle;

/**
 * Old rows of a table whose key is machine and time: goes from machine to machine by that key, so it never reads what is
 * young. Machines that left the register come, too.
 */
final class OldOfMachines implements OldRows {
    private static final int MACHINES_AT_ONCE = 100;

    private final String machinesSql;
    private final String deleteSql;
    private final Duration age;
    private String after = "";

    /** @param which of the old rows {@code t} may go */
    OldOfMachines(String table, String time, String which, Duration age) {
        machinesSql = """
                with recursive found (machine, n) as (
                    select min(machine), 1 from %1$s where machine > :after
                    union all
                    select (select min(r.machine) from %1$s r where r.machine > found.machine), n + 1
                    from found where machine is not null and n < :most)
                select machine from found where machine is not null order by machine""".formatted(table);
        deleteSql = """
                delete from %1$s where ctid = any (array(
                    select t.ctid from %1$s t where t.machine = any(:machines) and t.%2$s < :limit and %3$s
                    limit :most))""".formatted(table, time, which);
        this.age = age;
    }

    @Override
    public Step take(Handle handle, Instant now) {
        List<String> machines = handle.createQuery(machinesSql)
                .bind("after", after)
                .bind("most", MACHINES_AT_ONCE)
                .mapTo(String.class)
                .list();
        int rows = machines.isEmpty()
                ? 0
                : handle.createUpdate(deleteSql)
                        .bindArray("machines", String.class, machines)
                        .bind("limit", now.minus(age))
                        .bind("most", AT_MOST)
                        .execute();
        if (rows == AT_MOST) {
            return new Step(rows, false);
        }
        boolean isLast = machines.size() < MACHINES_AT_ONCE;
        after = isLast ? "" : machines.get(machines.size() - 1);
        return new Step(rows, isLast);
    }
}
