package dev.rimecast.alerts.store;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.alerts.people.ApiToken;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Session;
import dev.rimecast.alerts.view.SiteScope;
import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Update;
import org.jspecify.annotations.Nullable;

/** Rows of accounts, sessions, tokens and their audit. */
final class PeopleRows {
    static final String ACCOUNT = "a.id as a_id, a.name as a_name, a.role as a_role, a.sites as a_sites,"
            + " a.demo as a_demo, a.password_hash as a_password_hash, a.created_at as a_created_at,"
            + " a.disabled_at as a_disabled_at";
    static final String SESSION =
            "s.id as s_id, s.account as s_account, s.began_at, s.used_at, s.ends_at, s.address," + " s.client";
    static final String TOKEN = "t.id as t_id, t.account as t_account, t.name as t_name, t.role as t_role,"
            + " t.sites as t_sites, t.made_at, t.ends_at, t.used_at as t_used_at";

    private PeopleRows() {}

    static Account account(ResultSet row, String prefix) throws SQLException {
        return new Account(
                row.getObject(prefix + "id", UUID.class),
                row.getString(prefix + "name"),
                role(row.getString(prefix + "role")),
                scope(row.getArray(prefix + "sites")),
                row.getBoolean(prefix + "demo"),
                row.getString(prefix + "password_hash") != null,
                row.getTimestamp(prefix + "created_at").toInstant(),
                instant(row.getTimestamp(prefix + "disabled_at")));
    }

    static Session session(ResultSet row) throws SQLException {
        return new Session(
                row.getObject("s_id", UUID.class),
                row.getObject("s_account", UUID.class),
                row.getTimestamp("began_at").toInstant(),
                row.getTimestamp("used_at").toInstant(),
                row.getTimestamp("ends_at").toInstant(),
                row.getString("address"),
                row.getString("client"));
    }

    static ApiToken token(ResultSet row) throws SQLException {
        return new ApiToken(
                row.getObject("t_id", UUID.class),
                row.getObject("t_account", UUID.class),
                row.getString("t_name"),
                role(row.getString("t_role")),
                scope(row.getArray("t_sites")),
                row.getTimestamp("made_at").toInstant(),
                row.getTimestamp("ends_at").toInstant(),
                instant(row.getTimestamp("t_used_at")));
    }

    private static Role role(String code) {
        return Role.ofCode(code).orElseThrow(() -> new IllegalStateException("no role " + code));
    }

    private static SiteScope scope(@Nullable Array sites) throws SQLException {
        return sites == null ? SiteScope.EVERY : SiteScope.of(List.of((String[]) sites.getArray()));
    }

    private static Optional<Instant> instant(@Nullable Timestamp at) {
        return Optional.ofNullable(at).map(Timestamp::toInstant);
    }

    /** False where the name is taken. */
    static boolean insert(Handle handle, Account account, Optional<String> passwordHash) {
        Update update = handle.createUpdate("""
                        insert into account (id, name, role, sites, demo, password_hash, created_at, disabled_at)
                        values (:id, :name, :role, :sites, :demo, :hash, :createdAt, :disabledAt)
                        on conflict do nothing""")
                .bind("id", account.id())
                .bind("name", account.name())
                .bind("role", account.role().code())
                .bind("demo", account.isDemo())
                .bind("hash", passwordHash)
                .bind("createdAt", account.createdAt())
                .bind("disabledAt", account.disabledAt());
        return withSites(update, account.sites()).execute() == 1;
    }

    static void update(Handle handle, Account account) {
        Update update = handle.createUpdate(
                        "update account set role = :role, sites = :sites, disabled_at = :disabledAt where id = :id")
                .bind("id", account.id())
                .bind("role", account.role().code())
                .bind("disabledAt", account.disabledAt());
        withSites(update, account.sites()).execute();
    }

    static void setHash(Handle handle, UUID account, String hash) {
        handle.createUpdate("update account set password_hash = :hash where id = :id")
                .bind("id", account)
                .bind("hash", hash)
                .execute();
    }

    static void insert(Handle handle, Session session, byte[] hash) {
        handle.createUpdate("""
                        insert into account_session (id, token_hash, account, began_at, used_at, ends_at, address, client)
                        values (:id, :hash, :account, :began, :used, :ends, :address, :client)""")
                .bind("id", session.id())
                .bind("hash", hash)
                .bind("account", session.account())
                .bind("began", session.beganAt())
                .bind("used", session.usedAt())
                .bind("ends", session.endsAt())
                .bind("address", session.address())
                .bind("client", session.client())
                .execute();
    }

    static void insert(Handle handle, ApiToken token, byte[] hash) {
        Update update = handle.createUpdate("""
                        insert into api_token (id, token_hash, account, name, role, sites, made_at, ends_at)
                        values (:id, :hash, :account, :name, :role, :sites, :made, :ends)""")
                .bind("id", token.id())
                .bind("hash", hash)
                .bind("account", token.account())
                .bind("name", token.name())
                .bind("role", token.role().code())
                .bind("made", token.madeAt())
                .bind("ends", token.endsAt());
        withSites(update, token.sites()).execute();
    }

    private static Update withSites(Update update, SiteScope scope) {
        return scope.limit()
                .map(sites -> update.bindArray("sites", String.class, sites))
                .orElseGet(() -> update.bindNull("sites", java.sql.Types.ARRAY));
    }

    static void append(Handle handle, AccountNote note) {
        handle.createUpdate("insert into account_audit (at, who, account, what, detail)"
                        + " values (:at, :who, :account, :what, :detail)")
                .bind("at", note.at())
                .bind("who", note.who())
                .bind("account", note.account())
                .bind("what", note.what())
                .bind("detail", note.detail())
                .execute();
    }
}
