package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.GatewayView;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Gateways that machines of the register name, the one that was silent longest first. */
final class GatewayQuery {
    private static final String QUERY = """
            select m.gateway, m.site, s.name, p.online, p.changed_at, p.last_pack_at, array_agg(m.id order by m.id)
            from machine m join site s on s.id = m.site left join gateway_presence p on p.gateway = m.gateway
            group by m.gateway, m.site, s.name, p.online, p.changed_at, p.last_pack_at
            order by p.last_pack_at nulls first, m.gateway""";

    private GatewayQuery() {}

    static List<GatewayView> all(Handle handle) {
        return handle.createQuery(QUERY)
                .map((row, context) -> new GatewayView(
                        row.getString(1),
                        row.getString(2),
                        row.getString(3),
                        online(row),
                        time(row, 5),
                        time(row, 6),
                        List.of((String[]) row.getArray(7).getArray())))
                .list();
    }

    private static Optional<Boolean> online(ResultSet row) throws SQLException {
        boolean online = row.getBoolean(4);
        return row.wasNull() ? Optional.empty() : Optional.of(online);
    }

    private static Optional<Instant> time(ResultSet row, int column) throws SQLException {
        @Nullable Timestamp at = row.getTimestamp(column);
        return Optional.ofNullable(at).map(Timestamp::toInstant);
    }
}
