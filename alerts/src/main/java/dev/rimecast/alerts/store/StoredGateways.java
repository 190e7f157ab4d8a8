package dev.rimecast.alerts.store;

import dev.rimecast.alerts.gateways.GatewayCredential;
import dev.rimecast.alerts.gateways.GatewayStore;
import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.telemetry.gateway.GatewayKey;
import dev.rimecast.telemetry.gateway.GatewayKeysJson;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;

/**
 * Keys of gateways in the database. Each change is in the audit of accounts in the same transaction; ingest hears of it by the topic
 * {@code credentials}.
 */
public final class StoredGateways implements GatewayStore {
    private static final String SELECT =
            "select id, gateway, kind, sha256, until, added_at, added_by, ended_at, ended_by from gateway_credential ";

    private final Database database;
    private final Runnable wakePublisher;

    /** @param wakePublisher called when something waits in the outbox */
    public StoredGateways(Database database, Runnable wakePublisher) {
        this.database = database;
        this.wakePublisher = wakePublisher;
    }

    @Override
    public List<GatewayCredential> all() {
        return database.jdbi()
                .withHandle(handle -> read(handle.createQuery(SELECT + "order by gateway, added_at desc, id")));
    }

    @Override
    public boolean isOfAnother(String gateway, String sha256) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery("select exists (select from gateway_credential"
                                + " where sha256 = :sha256 and gateway <> :gateway and ended_at is null)")
                        .bind("sha256", sha256)
                        .bind("gateway", gateway)
                        .mapTo(Boolean.class)
                        .one());
    }

    @Override
    public List<GatewayCredential> change(
            String gateway, Function<List<GatewayCredential>, List<GatewayCredential>> change) {
        List<GatewayCredential> changed = database.jdbi().inTransaction(handle -> change(handle, gateway, change));
        if (!changed.isEmpty()) {
            wakePublisher.run();
        }
        return changed;
    }

    private static List<GatewayCredential> change(
            Handle handle, String gateway, Function<List<GatewayCredential>, List<GatewayCredential>> change) {
        handle.createQuery("select pg_advisory_xact_lock(hashtextextended('gateway ' || :gateway, 0))")
                .bind("gateway", gateway)
                .mapTo(String.class)
                .list();
        Map<UUID, GatewayCredential> all = new LinkedHashMap<>();
        read(handle.createQuery(SELECT + "where gateway = :gateway order by added_at desc, id")
                        .bind("gateway", gateway))
                .forEach(one -> all.put(one.id(), one));
        List<GatewayCredential> changed = change.apply(List.copyOf(all.values()));
        for (GatewayCredential one : changed) {
            write(handle, one);
            PeopleRows.append(handle, note(one, all.containsKey(one.id()), changed.get(0)));
            all.put(one.id(), one);
        }
        if (!changed.isEmpty()) {
            List<GatewayKey> inForce = all.values().stream()
                    .filter(one -> one.endedAt().isEmpty())
                    .map(GatewayCredential::key)
                    .toList();
            Outbox.toCredentials(handle, gateway, GatewayKeysJson.encode(inForce));
        }
        return changed;
    }

    /**
     * The line of the audit for one key of a change.
     *
     * @param first of the change: the new key where an old one is only given an end
     */
    private static AccountNote note(GatewayCredential one, boolean wasThere, GatewayCredential first) {
        String detail = one.gateway() + ": " + one.key().kind().code() + ", SHA-256 " + one.fingerprint();
        if (one.endedAt().isPresent()) {
            return note(one.endedAt().get(), one.endedBy().orElseThrow(), "gateway key revoked", detail);
        }
        if (wasThere) {
            String end = one.key().until().map(Instant::toString).orElse("");
            return note(first.addedAt(), first.addedBy(), "gateway key given an end", detail + ", until " + end);
        }
        return note(one.addedAt(), one.addedBy(), "gateway key added", detail);
    }

    private static AccountNote note(Instant at, String who, String what, String detail) {
        return new AccountNote(at, who, Optional.empty(), what, detail);
    }

    private static void write(Handle handle, GatewayCredential one) {
        handle.createUpdate("""
                        insert into gateway_credential
                          (id, gateway, kind, sha256, until, added_at, added_by, ended_at, ended_by)
                        values (:id, :gateway, :kind, :sha256, :until, :addedAt, :addedBy, :endedAt, :endedBy)
                        on conflict (id) do update
                        set until = excluded.until, ended_at = excluded.ended_at, ended_by = excluded.ended_by""")
                .bind("id", one.id())
                .bind("gateway", one.gateway())
                .bind("kind", one.key().kind().code())
                .bind("sha256", one.key().sha256())
                .bind("until", one.key().until())
                .bind("addedAt", one.addedAt())
                .bind("addedBy", one.addedBy())
                .bind("endedAt", one.endedAt())
                .bind("endedBy", one.endedBy())
                .execute();
    }

    private static List<GatewayCredential> read(Query query) {
        return query.map((row, context) -> credential(row)).list();
    }

    private static GatewayCredential credential(ResultSet row) throws SQLException {
        return new GatewayCredential(
                row.getObject(1, UUID.class),
                row.getString(2),
                new GatewayKey(
                        GatewayKey.Kind.ofCode(row.getString(3)).orElseThrow(),
                        row.getString(4),
                        Optional.ofNullable(row.getTimestamp(5)).map(Timestamp::toInstant)),
                row.getTimestamp(6).toInstant(),
                row.getString(7),
                Optional.ofNullable(row.getTimestamp(8)).map(Timestamp::toInstant),
                Optional.ofNullable(row.getString(9)));
    }
}
