package dev.rimecast.alerts.store;

import dev.rimecast.alerts.visits.calendar.CalendarLink;
import dev.rimecast.alerts.visits.calendar.CalendarLinkStore;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Calendar links in the database. */
public final class StoredCalendarLinks implements CalendarLinkStore {
    private static final String SELECT =
            "select id, account, engineer, made_by, made_at, revoked_by from calendar_link ";

    private final Database database;

    public StoredCalendarLinks(Database database) {
        this.database = database;
    }

    @Override
    public void add(CalendarLink link, byte[] secretHash) {
        database.jdbi()
                .useHandle(handle -> handle.createUpdate("""
                        insert into calendar_link (id, token_hash, account, engineer, made_by, made_at)
                        values (:id, :hash, :account, :engineer, :by, :at)""")
                        .bind("id", link.id())
                        .bind("hash", secretHash)
                        .bind("account", link.account())
                        .bind("engineer", link.engineer())
                        .bind("by", link.madeBy())
                        .bind("at", link.madeAt())
                        .execute());
    }

    @Override
    public List<CalendarLink> of(UUID account) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(
                                SELECT + "where account = :account and revoked_at is null order by made_at, id")
                        .bind("account", account)
                        .map((row, context) -> link(row))
                        .list());
    }

    @Override
    public Optional<CalendarLink> find(byte[] secretHash) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(SELECT + "where token_hash = :hash")
                        .bind("hash", secretHash)
                        .map((row, context) -> link(row))
                        .findOne());
    }

    @Override
    public boolean revoke(UUID account, UUID link, String who, Instant at) {
        return database.jdbi()
                        .withHandle(handle -> handle.createUpdate("""
                                update calendar_link set revoked_by = :who, revoked_at = :at
                                where id = :id and account = :account and revoked_at is null""")
                                .bind("who", who)
                                .bind("at", at)
                                .bind("id", link)
                                .bind("account", account)
                                .execute())
                > 0;
    }

    private static CalendarLink link(ResultSet row) throws SQLException {
        return new CalendarLink(
                row.getObject(1, UUID.class),
                row.getObject(2, UUID.class),
                Optional.ofNullable(row.getString(3)),
                row.getString(4),
                row.getTimestamp(5).toInstant(),
                Optional.ofNullable(row.getString(6)));
    }
}
