package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.log.SiteRecord.Presence;
import dev.rimecast.telemetry.reading.Reading;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/**
 * What the pages need of the sites' logs: roll-ups, newest values, full bins, and which gateways are there. Register, policy and
 * events are here already, since they came from here. Used by one thread.
 */
public final class SiteLogStore {
    private final Rollups rollups = new Rollups();
    private final LatestValues latest = new LatestValues();
    private final BinSpells bins = new BinSpells();

    /** A record and the site whose log it is in. */
    public record Entry(String site, SiteRecord content) {}

    /**
     * Takes records in, in the order of the log.
     *
     * @return machines of which readings came, each with its site
     */
    public Map<String, String> add(Handle handle, List<Entry> entries) {
        List<Reading> readings = new ArrayList<>();
        Map<String, String> machines = new TreeMap<>();
        Map<String, GatewayNews> gateways = new TreeMap<>();
        for (Entry entry : entries) {
            if (entry.content() instanceof Pack pack) {
                readings.addAll(pack.readings());
                pack.readings().forEach(reading -> machines.put(reading.machine(), entry.site()));
                news(gateways, pack.gateway(), entry.site()).packAt(pack.receivedAt());
            } else if (entry.content() instanceof Presence presence) {
                news(gateways, presence.gateway(), entry.site()).presence(presence);
            }
        }
        try {
            rollups.add(handle, readings);
        } catch (SQLException e) {
            throw new DatabaseException(e);
        }
        latest.add(handle, readings);
        bins.add(handle, readings);
        GatewayNews.write(handle, gateways.values());
        return machines;
    }

    /** To be called after a transaction that was rolled back, and when partitions change hands. */
    public void forget() {
        rollups.forget();
        latest.forget();
        bins.forget();
    }

    private static GatewayNews news(Map<String, GatewayNews> gateways, String gateway, String site) {
        return gateways.computeIfAbsent(gateway, g -> new GatewayNews(g, site));
    }

    /** What a batch says about one gateway. */
    private static final class GatewayNews {
        private static final String UPSERT = """
                insert into gateway_presence as g (gateway, site, online, changed_at, last_pack_at)
                select gateway, site, online, changed_at, last_pack_at
                from unnest(?::text[], ?::text[], ?::boolean[], ?::timestamptz[], ?::timestamptz[])
                    with ordinality as t (gateway, site, online, changed_at, last_pack_at, i)
                order by i
                on conflict (gateway) do update set site = excluded.site,
                    online = case when excluded.changed_at >= coalesce(g.changed_at, excluded.changed_at)
                        then excluded.online else g.online end,
                    changed_at = greatest(g.changed_at, excluded.changed_at),
                    last_pack_at = greatest(g.last_pack_at, excluded.last_pack_at)""";

        private final String gateway;
        private final String site;
        private Instant lastPackAt = Instant.EPOCH;
        private boolean online;
        private Instant changedAt = Instant.EPOCH;

        GatewayNews(String gateway, String site) {
            this.gateway = gateway;
            this.site = site;
        }

        void packAt(Instant at) {
            lastPackAt = at.isAfter(lastPackAt) ? at : lastPackAt;
        }

        void presence(Presence presence) {
            // The later one stands, as between batches: a cut into other batches must not matter.
            if (!presence.at().isBefore(changedAt)) {
                online = presence.online();
                changedAt = presence.at();
            }
        }

        private static @Nullable String told(Instant at) {
            return at.isAfter(Instant.EPOCH) ? at.toString() : null;
        }

        /**
         * All in one statement: a batch under load has hundreds of gateways.
         *
         * @param news in the order of gateways, in which rows are written, so that two writers never wait for each other in a ring
         */
        static void write(Handle handle, Collection<GatewayNews> news) {
            if (news.isEmpty()) {
                return;
            }
            int n = news.size();
            String[] gateways = new String[n];
            String[] sites = new String[n];
            @Nullable Boolean[] online = new @Nullable Boolean[n];
            @Nullable String[] changedAt = new @Nullable String[n];
            @Nullable String[] lastPackAt = new @Nullable String[n];
            int i = 0;
            for (GatewayNews each : news) {
                gateways[i] = each.gateway;
                sites[i] = each.site;
                changedAt[i] = told(each.changedAt);
                online[i] = changedAt[i] == null ? null : each.online;
                lastPackAt[i] = told(each.lastPackAt);
                i++;
            }
            Connection connection = handle.getConnection();
            try (PreparedStatement statement = connection.prepareStatement(UPSERT)) {
                statement.setArray(1, connection.createArrayOf("text", gateways));
                statement.setArray(2, connection.createArrayOf("text", sites));
                statement.setArray(3, connection.createArrayOf("boolean", online));
                statement.setArray(4, connection.createArrayOf("timestamptz", changedAt));
                statement.setArray(5, connection.createArrayOf("timestamptz", lastPackAt));
                statement.executeUpdate();
            } catch (SQLException e) {
                throw new DatabaseException(e);
            }
        }
    }
}
