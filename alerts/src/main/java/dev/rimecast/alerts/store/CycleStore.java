package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.cycle.CycleJson;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.PreparedBatch;

/** Finished cycles, one per machine and freeze start; the same cycle again replaces itself. */
public final class CycleStore {
    private CycleStore() {}

    private record Key(String machine, Instant freezeStart) {}

    public static void write(Handle handle, List<Cycle> cycles) {
        // One statement must not touch a row twice; the later record stands.
        Map<Key, Cycle> distinct = new LinkedHashMap<>();
        cycles.forEach(cycle -> distinct.put(new Key(cycle.machine(), cycle.freezeStart()), cycle));
        if (distinct.isEmpty()) {
            return;
        }
        PreparedBatch batch = handle.prepareBatch("""
                insert into cycle (machine, freeze_start, ended, complete, record)
                values (:machine, :start, :ended, :complete, cast(:record as jsonb))
                on conflict (machine, freeze_start) do update
                set ended = excluded.ended, complete = excluded.complete, record = excluded.record""");
        for (Cycle cycle : distinct.values()) {
            batch.bind("machine", cycle.machine())
                    .bind("start", cycle.freezeStart())
                    .bind("ended", cycle.end())
                    .bind("complete", cycle.complete())
                    .bind("record", new String(CycleJson.encode(cycle), StandardCharsets.UTF_8))
                    .add();
        }
        batch.execute();
    }

    static List<Cycle> read(Handle handle, String machine, Instant from, Instant to) {
        return handle.createQuery("select record from cycle where machine = :machine"
                        + " and freeze_start >= :from and freeze_start < :to order by freeze_start")
                .bind("machine", machine)
                .bind("from", from)
                .bind("to", to)
                .map((row, context) -> CycleJson.decode(row.getString(1).getBytes(StandardCharsets.UTF_8)))
                .list();
    }
}
