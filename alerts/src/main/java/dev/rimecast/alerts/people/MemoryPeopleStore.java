package dev.rimecast.alerts.people;

import java.nio.ByteBuffer;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.Deque;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** In memory, for tests and for looking at pages. Keeps the same contract as the database. */
public final class MemoryPeopleStore implements PeopleStore {
    private final Map<UUID, Account> accounts = new LinkedHashMap<>();
    private final Map<UUID, String> passwords = new HashMap<>();
    private final Map<ByteBuffer, Session> sessions = new LinkedHashMap<>();
    private final Map<ByteBuffer, ApiToken> tokens = new LinkedHashMap<>();
    private final Map<ByteBuffer, Link> links = new HashMap<>();
    private final Deque<AccountNote> notes = new ArrayDeque<>();
    private final FactorStore factors = new MemoryFactorStore(this::note, this::endOthers);

    @Override
    public FactorStore factors() {
        return factors;
    }

    @Override
    public synchronized Optional<Known> byName(String name) {
        return accounts.values().stream()
                .filter(account -> isSame(account.name(), name))
                .findFirst()
                .map(account -> new Known(account, Optional.ofNullable(passwords.get(account.id()))));
    }

    private static boolean isSame(String one, String other) {
        return one.toLowerCase(Locale.ROOT).equals(other.toLowerCase(Locale.ROOT));
    }

    @Override
    public synchronized Optional<Account> account(UUID id) {
        return Optional.ofNullable(accounts.get(id));
    }

    @Override
    public synchronized List<Account> accounts() {
        return accounts.values().stream()
                .sorted(Comparator.comparing(account -> account.name().toLowerCase(Locale.ROOT)))
                .toList();
    }

    @Override
    public synchronized boolean add(Account account, AccountNote note) {
        if (byName(account.name()).isPresent()) {
            return false;
        }
        accounts.put(account.id(), account);
        note(note);
        return true;
    }

    @Override
    public synchronized void change(Account account, AccountNote note) {
        accounts.put(account.id(), account);
        endAll(account.id());
        note(note);
    }

    @Override
    public synchronized void setPassword(UUID account, String hash, AccountNote note) {
        passwords.put(account, hash);
        accounts.computeIfPresent(account, (id, before) -> withPassword(before));
        endAll(account);
        links.values().removeIf(link -> link.account().equals(Optional.of(account)));
        note(note);
    }

    private static Account withPassword(Account account) {
        return new Account(
                account.id(),
                account.name(),
                account.role(),
                account.sites(),
                account.isDemo(),
                true,
                account.createdAt(),
                account.disabledAt());
    }

    private synchronized void endOthers(UUID account, Optional<UUID> kept) {
        sessions.values()
                .removeIf(session -> session.account().equals(account) && !kept.equals(Optional.of(session.id())));
    }

    private void endAll(UUID account) {
        sessions.values().removeIf(session -> session.account().equals(account));
    }

    @Override
    public synchronized void renewHash(UUID account, String hash) {
        passwords.put(account, hash);
    }

    @Override
    public synchronized void offer(Link link, byte[] hash, AccountNote note) {
        links.values().removeIf(older -> older.account().equals(link.account()));
        links.put(ByteBuffer.wrap(hash), link);
        note(note);
    }

    @Override
    public synchronized Optional<Link> link(byte[] hash, Instant now) {
        return Optional.ofNullable(links.get(ByteBuffer.wrap(hash))).filter(link -> now.isBefore(link.endsAt()));
    }

    @Override
    public synchronized boolean redeem(byte[] linkHash, Instant now, String passwordHash, AccountNote note) {
        Optional<UUID> account = link(linkHash, now).flatMap(Link::account);
        account.ifPresent(id -> setPassword(id, passwordHash, note));
        return account.isPresent();
    }

    @Override
    public synchronized boolean redeem(
            byte[] linkHash, Instant now, Account first, String passwordHash, AccountNote note) {
        if (link(linkHash, now).filter(link -> link.account().isEmpty()).isEmpty() || !add(first, note)) {
            return false;
        }
        passwords.put(first.id(), passwordHash);
        links.remove(ByteBuffer.wrap(linkHash));
        return true;
    }

    @Override
    public synchronized void begin(Session session, byte[] hash, int keep, AccountNote note) {
        sessions.put(ByteBuffer.wrap(hash), session);
        List<Session> newest = newest(session.account());
        if (newest.size() > keep) {
            sessions.values().removeAll(newest.subList(keep, newest.size()));
        }
        note(note);
    }

    private List<Session> newest(UUID account) {
        return sessions.values().stream()
                .filter(session -> session.account().equals(account))
                .sorted(Comparator.comparing(Session::beganAt)
                        .thenComparing(Session::id)
                        .reversed())
                .toList();
    }

    @Override
    public synchronized Optional<Entered> entered(byte[] hash) {
        return Optional.ofNullable(sessions.get(ByteBuffer.wrap(hash)))
                .flatMap(session -> account(session.account()).map(account -> new Entered(session, account)));
    }

    @Override
    public synchronized void touch(UUID session, Instant at) {
        sessions.replaceAll((hash, old) -> old.id().equals(session)
                ? new Session(old.id(), old.account(), old.beganAt(), at, old.endsAt(), old.address(), old.client())
                : old);
    }

    @Override
    public synchronized List<Session> sessions(UUID account, Instant now) {
        return newest(account).stream().filter(session -> !session.isOver(now)).toList();
    }

    @Override
    public synchronized boolean end(UUID account, UUID session, AccountNote note) {
        boolean ended = sessions.values()
                .removeIf(each -> each.id().equals(session) && each.account().equals(account));
        if (ended) {
            note(note);
        }
        return ended;
    }

    @Override
    public synchronized void add(ApiToken token, byte[] hash, AccountNote note) {
        tokens.put(ByteBuffer.wrap(hash), token);
        note(note);
    }

    @Override
    public synchronized Optional<Scripted> scripted(byte[] hash) {
        return Optional.ofNullable(tokens.get(ByteBuffer.wrap(hash)))
                .flatMap(token -> account(token.account()).map(account -> new Scripted(token, account)));
    }

    @Override
    public synchronized void touchToken(UUID token, Instant at) {
        tokens.replaceAll((hash, old) -> old.id().equals(token)
                ? new ApiToken(
                        old.id(),
                        old.account(),
                        old.name(),
                        old.role(),
                        old.sites(),
                        old.madeAt(),
                        old.endsAt(),
                        Optional.of(at))
                : old);
    }

    @Override
    public synchronized List<ApiToken> tokens(UUID account) {
        return tokens.values().stream()
                .filter(token -> token.account().equals(account))
                .sorted(Comparator.comparing(ApiToken::madeAt)
                        .thenComparing(ApiToken::id)
                        .reversed())
                .toList();
    }

    @Override
    public synchronized boolean revoke(UUID account, UUID token, AccountNote note) {
        boolean revoked = tokens.values()
                .removeIf(each -> each.id().equals(token) && each.account().equals(account));
        if (revoked) {
            note(note);
        }
        return revoked;
    }

    @Override
    public synchronized void note(AccountNote note) {
        notes.addFirst(note);
    }

    @Override
    public synchronized List<AccountNote> notes(int limit) {
        return new ArrayList<>(notes).subList(0, Math.min(limit, notes.size()));
    }
}
