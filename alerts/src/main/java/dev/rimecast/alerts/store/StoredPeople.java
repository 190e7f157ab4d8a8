package dev.rimecast.alerts.store;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.alerts.people.ApiToken;
import dev.rimecast.alerts.people.FactorStore;
import dev.rimecast.alerts.people.Link;
import dev.rimecast.alerts.people.PeopleStore;
import dev.rimecast.alerts.people.Session;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;

/** People in the database. */
public final class StoredPeople implements PeopleStore {
    private static final String ACCOUNT = "select " + PeopleRows.ACCOUNT + " from account a ";

    private final Database database;
    private final FactorStore factors;

    public StoredPeople(Database database) {
        this.database = database;
        this.factors = new StoredFactors(database);
    }

    @Override
    public FactorStore factors() {
        return factors;
    }

    @Override
    public Optional<Known> byName(String name) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(ACCOUNT + "where lower(a.name) = lower(:name)")
                        .bind("name", name)
                        .map((row, context) -> new Known(
                                PeopleRows.account(row, "a_"), Optional.ofNullable(row.getString("a_password_hash"))))
                        .findOne());
    }

    @Override
    public Optional<Account> account(UUID id) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(ACCOUNT + "where a.id = :id")
                        .bind("id", id)
                        .map((row, context) -> PeopleRows.account(row, "a_"))
                        .findOne());
    }

    @Override
    public List<Account> accounts() {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(ACCOUNT + "order by lower(a.name)")
                        .map((row, context) -> PeopleRows.account(row, "a_"))
                        .list());
    }

    @Override
    public boolean add(Account account, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            boolean added = PeopleRows.insert(handle, account, Optional.empty());
            if (added) {
                PeopleRows.append(handle, note);
            }
            return added;
        });
    }

    @Override
    public void change(Account account, AccountNote note) {
        database.jdbi().useTransaction(handle -> {
            PeopleRows.update(handle, account);
            endAll(handle, account.id());
            PeopleRows.append(handle, note);
        });
    }

    @Override
    public void setPassword(UUID account, String hash, AccountNote note) {
        database.jdbi().useTransaction(handle -> setPassword(handle, account, hash, note));
    }

    private static void setPassword(Handle handle, UUID account, String hash, AccountNote note) {
        PeopleRows.setHash(handle, account, hash);
        endAll(handle, account);
        handle.createUpdate("delete from account_link where account = :account")
                .bind("account", account)
                .execute();
        handle.createUpdate("update calendar_link set revoked_by = :who, revoked_at = :at"
                        + " where account = :account and revoked_at is null")
                .bind("who", note.who())
                .bind("at", note.at())
                .bind("account", account)
                .execute();
        PeopleRows.append(handle, note);
    }

    private static void endAll(Handle handle, UUID account) {
        handle.createUpdate("delete from account_session where account = :account")
                .bind("account", account)
                .execute();
    }

    @Override
    public void renewHash(UUID account, String hash) {
        database.jdbi().useHandle(handle -> PeopleRows.setHash(handle, account, hash));
    }

    @Override
    public void offer(Link link, byte[] hash, AccountNote note) {
        database.jdbi().useTransaction(handle -> {
            handle.createUpdate("delete from account_link where account is not distinct from cast(:account as uuid)")
                    .bind("account", link.account())
                    .execute();
            handle.createUpdate("insert into account_link (link_hash, account, made_at, ends_at)"
                            + " values (:hash, :account, :made, :ends)")
                    .bind("hash", hash)
                    .bind("account", link.account())
                    .bind("made", link.madeAt())
                    .bind("ends", link.endsAt())
                    .execute();
            PeopleRows.append(handle, note);
        });
    }

    @Override
    public Optional<Link> link(byte[] hash, Instant now) {
        return database.jdbi()
                .withHandle(handle -> link(
                        handle.createQuery("select account, made_at, ends_at from account_link"
                                + " where link_hash = :hash and ends_at > :now"),
                        hash,
                        now));
    }

    private static Optional<Link> link(Query query, byte[] hash, Instant now) {
        return query.bind("hash", hash)
                .bind("now", now)
                .map((row, context) -> new Link(
                        Optional.ofNullable(row.getObject(1, UUID.class)),
                        row.getTimestamp(2).toInstant(),
                        row.getTimestamp(3).toInstant()))
                .findOne();
    }

    /** Takes the link away: of several at once, one gets it. */
    private static Optional<Link> use(Handle handle, byte[] hash, Instant now) {
        return link(
                handle.createQuery("delete from account_link where link_hash = :hash and ends_at > :now"
                        + " returning account, made_at, ends_at"),
                hash,
                now);
    }

    @Override
    public boolean redeem(byte[] linkHash, Instant now, String passwordHash, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            Optional<UUID> account = use(handle, linkHash, now).flatMap(Link::account);
            account.ifPresentOrElse(id -> setPassword(handle, id, passwordHash, note), handle::rollback);
            return account.isPresent();
        });
    }

    @Override
    public boolean redeem(byte[] linkHash, Instant now, Account first, String passwordHash, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            boolean made = use(handle, linkHash, now)
                            .filter(link -> link.account().isEmpty())
                            .isPresent()
                    && PeopleRows.insert(handle, first, Optional.of(passwordHash));
            if (made) {
                PeopleRows.append(handle, note);
            } else {
                handle.rollback();
            }
            return made;
        });
    }

    @Override
    public void begin(Session session, byte[] hash, int keep, AccountNote note) {
        database.jdbi().useTransaction(handle -> {
            PeopleRows.insert(handle, session, hash);
            handle.createUpdate("""
                            delete from account_session where account = :account and (ends_at <= :now or id not in (
                                select id from account_session where account = :account
                                order by began_at desc, id desc limit :keep))""")
                    .bind("account", session.account())
                    .bind("now", session.beganAt())
                    .bind("keep", keep)
                    .execute();
            PeopleRows.append(handle, note);
        });
    }

    @Override
    public Optional<Entered> entered(byte[] hash) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery("select " + PeopleRows.SESSION + ", "
                                + PeopleRows.ACCOUNT + " from account_session s join account a on a.id = s.account"
                                + " where s.token_hash = :hash")
                        .bind("hash", hash)
                        .map((row, context) -> new Entered(PeopleRows.session(row), PeopleRows.account(row, "a_")))
                        .findOne());
    }

    @Override
    public void touch(UUID session, Instant at) {
        database.jdbi()
                .useHandle(handle -> handle.createUpdate("update account_session set used_at = :at where id = :id")
                        .bind("id", session)
                        .bind("at", at)
                        .execute());
    }

    @Override
    public List<Session> sessions(UUID account, Instant now) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery("select " + PeopleRows.SESSION
                                + " from account_session s where s.account = :account and s.ends_at > :now"
                                + " and s.used_at > :idleSince order by s.began_at desc, s.id desc")
                        .bind("account", account)
                        .bind("now", now)
                        .bind("idleSince", now.minus(Session.IDLE))
                        .map((row, context) -> PeopleRows.session(row))
                        .list());
    }

    @Override
    public boolean end(UUID account, UUID session, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            boolean ended = handle.createUpdate("delete from account_session where id = :id and account = :account")
                            .bind("id", session)
                            .bind("account", account)
                            .execute()
                    == 1;
            if (ended) {
                PeopleRows.append(handle, note);
            }
            return ended;
        });
    }

    @Override
    public void add(ApiToken token, byte[] hash, AccountNote note) {
        database.jdbi().useTransaction(handle -> {
            PeopleRows.insert(handle, token, hash);
            PeopleRows.append(handle, note);
        });
    }

    @Override
    public Optional<Scripted> scripted(byte[] hash) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery("select " + PeopleRows.TOKEN + ", "
                                + PeopleRows.ACCOUNT + " from api_token t join account a on a.id = t.account"
                                + " where t.token_hash = :hash and t.revoked_at is null")
                        .bind("hash", hash)
                        .map((row, context) -> new Scripted(PeopleRows.token(row), PeopleRows.account(row, "a_")))
                        .findOne());
    }

    @Override
    public void touchToken(UUID token, Instant at) {
        database.jdbi()
                .useHandle(handle -> handle.createUpdate("update api_token set used_at = :at where id = :id")
                        .bind("id", token)
                        .bind("at", at)
                        .execute());
    }

    @Override
    public List<ApiToken> tokens(UUID account) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery("select " + PeopleRows.TOKEN
                                + " from api_token t where t.account = :account and t.revoked_at is null"
                                + " order by t.made_at desc, t.id desc")
                        .bind("account", account)
                        .map((row, context) -> PeopleRows.token(row))
                        .list());
    }

    @Override
    public boolean revoke(UUID account, UUID token, AccountNote note) {
        return database.jdbi().inTransaction(handle -> {
            boolean revoked = handle.createUpdate("update api_token set revoked_at = :at"
                                    + " where id = :id and account = :account and revoked_at is null")
                            .bind("at", note.at())
                            .bind("id", token)
                            .bind("account", account)
                            .execute()
                    == 1;
            if (revoked) {
                PeopleRows.append(handle, note);
            }
            return revoked;
        });
    }

    @Override
    public void note(AccountNote note) {
        database.jdbi().useHandle(handle -> PeopleRows.append(handle, note));
    }

    @Override
    public List<AccountNote> notes(int limit) {
        return database.jdbi()
                .withHandle(handle -> handle.createQuery(
                                "select at, who, account, what, detail from account_audit order by id desc limit :limit")
                        .bind("limit", limit)
                        .map((row, context) -> new AccountNote(
                                row.getTimestamp(1).toInstant(),
                                row.getString(2),
                                Optional.ofNullable(row.getObject(3, UUID.class)),
                                row.getString(4),
                                row.getString(5)))
                        .list());
    }
}
