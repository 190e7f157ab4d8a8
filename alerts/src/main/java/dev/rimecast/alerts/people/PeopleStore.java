package dev.rimecast.alerts.people;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * Where accounts, sessions, tokens and links are kept. Each change is one transaction with its line in the audit. Tokens
 * and links come as hashes only. Safe for many threads.
 */
public interface PeopleStore {

    /** An account with the hash of its password, if it has one. */
    record Known(Account account, Optional<String> passwordHash) {}

    record Entered(Session session, Account account) {}

    record Scripted(ApiToken token, Account account) {}

    /** Where their second factors are. */
    FactorStore factors();

    Optional<Known> byName(String name);

    Optional<Account> account(UUID id);

    /** By name. */
    List<Account> accounts();

    /** @return false where the name is taken */
    boolean add(Account account, AccountNote note);

    /** Writes role, sites and whether it is disabled, and ends all of its sessions. */
    void change(Account account, AccountNote note);

    /** Writes the hash and ends all of its sessions and links, those of its calendars, too: a thief may have made one. */
    void setPassword(UUID account, String hash, AccountNote note);

    /** Writes a better hash of the same password. */
    void renewHash(UUID account, String hash);

    /** Keeps the link and takes away older ones for the same purpose. */
    void offer(Link link, byte[] hash, AccountNote note);

    /** The link, if it has not ended and was not used. */
    Optional<Link> link(byte[] hash, Instant now);

    /** Uses up a link and sets the password of its account; false where somebody was faster, or it has ended. */
    boolean redeem(byte[] linkHash, Instant now, String passwordHash, AccountNote note);

    /** Uses up a link and makes the first account; false where somebody was faster, or the name is taken. */
    boolean redeem(byte[] linkHash, Instant now, Account first, String passwordHash, AccountNote note);

    /** @param keep at most so many sessions of the account stay: the oldest go */
    void begin(Session session, byte[] hash, int keep, AccountNote note);

    Optional<Entered> entered(byte[] hash);

    void touch(UUID session, Instant at);

    /** Those that have not ended, newest first. */
    List<Session> sessions(UUID account, Instant now);

    /** @return false where the account has no such session */
    boolean end(UUID account, UUID session, AccountNote note);

    void add(ApiToken token, byte[] hash, AccountNote note);

    /** Only those that were not revoked. */
    Optional<Scripted> scripted(byte[] hash);

    void touchToken(UUID token, Instant at);

    /** Those that were not revoked, newest first. */
    List<ApiToken> tokens(UUID account);

    /** @return false where the account has no such token */
    boolean revoke(UUID account, UUID token, AccountNote note);

    void note(AccountNote note);

    /** The newest lines of the audit, newest first. */
    List<AccountNote> notes(int limit);
}
