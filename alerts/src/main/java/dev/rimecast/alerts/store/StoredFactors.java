package dev.rimecast.alerts.store;

import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.alerts.people.FactorStore;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Second factors in the database. */
final class StoredFactors implements FactorStore {
    private final Database database;

    StoredFactors(Database database) {
        this.database = database;
    }

    @Override
    public Optional<Factor> factor(UUID account) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery("""
                                select secret, made_at, confirmed_at, (select count(*) from account_recovery_code c
                                    where c.account = f.account and c.used_at is null) as codes
                                from account_second_factor f where account = :account""")
                        .bind("account", account)
                        .map((row, context) -> new Factor(
                                row.getBytes("secret"),
                                row.getTimestamp("made_at").toInstant(),
                                Optional.ofNullable(row.getTimestamp("confirmed_at"))
                                        .map(Timestamp::toInstant),
                                row.getInt("codes")))
                        .findOne());
    }

    @Override
    public Set<UUID> confirmed() {
        return database.jdbi()
                .withHandle(handle -> Set.copyOf(
                        handle.createQuery("select account from account_second_factor where confirmed_at is not null")
                                .mapTo(UUID.class)
                                .list()));
    }

    @Override
    public boolean propose(UUID account, byte[] secret, Instant now) {
        return database.jdbi()
                .withHandle(handle -> handle.createUpdate("""
                                insert into account_second_factor (account, secret, made_at) values (:account, :secret, :now)
                                on conflict (account) do update set secret = excluded.secret, made_at = excluded.made_at
                                where account_second_factor.confirmed_at is null""")
                                .bind("account", account)
                                .bind("secret", secret)
                                .bind("now", now)
                                .execute()
                        == 1);
    }

    @Override
    public boolean confirm(UUID account, long step, List<byte[]> codeHashes, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            boolean confirmed = handle.createUpdate("update account_second_factor set confirmed_at = :at,"
                                    + " last_step = :step where account = :account and confirmed_at is null")
                            .bind("at", note.at())
                            .bind("step", step)
                            .bind("account", account)
                            .execute()
                    == 1;
            if (confirmed) {
                replaceCodes(handle, account, codeHashes, note);
            }
            return confirmed;
        });
    }

    private static void replaceCodes(Handle handle, UUID account, List<byte[]> codeHashes, AccountNote note) {
        handle.createUpdate("delete from account_recovery_code where account = :account")
                .bind("account", account)
                .execute();
        for (byte[] hash : codeHashes) {
            handle.createUpdate("insert into account_recovery_code (code_hash, account, made_at)"
                            + " values (:hash, :account, :at)")
                    .bind("hash", hash)
                    .bind("account", account)
                    .bind("at", note.at())
                    .execute();
        }
        PeopleRows.append(handle, note);
    }

    @Override
    public boolean use(UUID account, long step) {
        return database.jdbi()
                .withHandle(handle -> handle.createUpdate(
                                        "update account_second_factor set last_step = :step"
                                                + " where account = :account and confirmed_at is not null and last_step < :step")
                                .bind("account", account)
                                .bind("step", step)
                                .execute()
                        == 1);
    }

    @Override
    public boolean useCode(UUID account, byte[] codeHash, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            boolean used = handle.createUpdate("update account_recovery_code set used_at = :at"
                                    + " where account = :account and code_hash = :hash and used_at is null")
                            .bind("at", note.at())
                            .bind("account", account)
                            .bind("hash", codeHash)
                            .execute()
                    == 1;
            if (used) {
                PeopleRows.append(handle, note);
            }
            return used;
        });
    }

    @Override
    public void renewCodes(UUID account, List<byte[]> codeHashes, AccountNote note) {
        database.jdbi().useTransaction(handle -> replaceCodes(handle, account, codeHashes, note));
    }

    @Override
    public boolean remove(UUID account, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            boolean removed = handle.createUpdate(
                                    "delete from account_second_factor where account = :account and confirmed_at is not null")
                            .bind("account", account)
                            .execute()
                    == 1;
            if (removed) {
                replaceCodes(handle, account, List.of(), note);
            }
            return removed;
        });
    }

    @Override
    public void endSessions(UUID account, Optional<UUID> kept) {
        database.jdbi()
                .useHandle(handle -> handle.createUpdate("delete from account_session where account = :account"
                                + " and id is distinct from cast(:kept as uuid)")
                        .bind("account", account)
                        .bind("kept", kept)
                        .execute());
    }
}
