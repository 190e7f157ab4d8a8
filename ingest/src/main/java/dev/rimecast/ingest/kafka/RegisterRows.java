package dev.rimecast.ingest.kafka;

import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Rows of the topic {@code registry}, the newest of each key. Not for use by several threads.
 *
 * <p>A gateway that moves to another site changes row by row, so for a moment its rows disagree. The newest row says
 * where the gateway stands; older rows that say otherwise are left out until they are written again. Their machines'
 * readings wait as unclaimed meanwhile; nothing is lost.
 */
final class RegisterRows {
    private static final String MACHINE = "machine/";
    private static final String SITE = "site/";

    private final LinkedHashMap<String, Machine> machines = new LinkedHashMap<>();
    private final Map<String, Site> sites = new LinkedHashMap<>();

    void put(String key, SiteRecord row) {
        if (row instanceof SiteRecord.Registered registered && key.startsWith(MACHINE)) {
            // Taken out first, so that the order of the map is the order of the rows.
            machines.remove(registered.machine().id());
            machines.put(registered.machine().id(), registered.machine());
        } else if (row instanceof SiteRecord.SiteChanged changed && key.startsWith(SITE)) {
            sites.put(changed.site().id(), changed.site());
        }
    }

    void end(String key) {
        if (key.startsWith(MACHINE)) {
            machines.remove(key.substring(MACHINE.length()));
        } else if (key.startsWith(SITE)) {
            sites.remove(key.substring(SITE.length()));
        }
    }

    Register register() {
        List<Machine> newestFirst = new ArrayList<>(machines.values());
        Collections.reverse(newestFirst);
        Map<String, String> siteOfGateway = new HashMap<>();
        List<Machine> agreeing = new ArrayList<>();
        for (Machine machine : newestFirst) {
            String other = siteOfGateway.putIfAbsent(machine.gateway(), machine.site());
            if (other == null || other.equals(machine.site())) {
                agreeing.add(machine);
            }
        }
        Collections.reverse(agreeing);
        return new Register(agreeing, sites.values());
    }
}
