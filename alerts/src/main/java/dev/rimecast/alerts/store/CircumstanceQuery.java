package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.Circumstance;
import java.util.Collection;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import org.jdbi.v3.core.Handle;

/** What is known about machines now that can make their alerts mean nothing. */
final class CircumstanceQuery {
    private CircumstanceQuery() {}

    /** A machine of which nothing is known is not in the map. */
    static Map<String, Set<Circumstance>> of(Handle handle, Collection<String> machines) {
        Map<String, Set<Circumstance>> circumstances = new HashMap<>();
        if (machines.isEmpty()) {
            return circumstances;
        }
        handle.createQuery("""
                select m.id,
                    exists (select 1 from alert g where g.subject = 'gateway:' || m.gateway
                        and g.condition = 'gateway-silent' and g.state <> 'normal' and g.cleared_at is null),
                    phase.text = 'clean',
                    full_bin.value <> 0 or phase.text = 'idle'
                from unnest(:machines) as wanted (id)
                join machine m on m.id = wanted.id
                left join latest_value phase on phase.machine = m.id and phase.channel = 'phase'
                left join latest_value full_bin on full_bin.machine = m.id and full_bin.channel = 'bin_full'""")
                .bindArray("machines", String.class, machines)
                .map((row, context) -> {
                    Set<Circumstance> of = EnumSet.noneOf(Circumstance.class);
                    if (row.getBoolean(2)) {
                        of.add(Circumstance.GATEWAY_DOWN);
                    }
                    if (row.getBoolean(3)) {
                        of.add(Circumstance.CLEANING);
                    }
                    if (row.getBoolean(4)) {
                        of.add(Circumstance.BIN_FULL);
                    }
                    return circumstances.put(row.getString(1), of) == null;
                })
                .list();
        return circumstances;
    }
}
