package dev.rimecast.alerts.people;

import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.atomic.AtomicLong;

/** Knows a visitor by the token that a request carries, and ends what was begun. */
public final class Entrance {
    private static final Duration NOTED_EVERY = Duration.ofMinutes(1);
    /** More are no use to a person, and bound what a script without a cookie can leave behind. */
    private static final int SESSIONS_KEPT = 20;

    private static final int LONGEST_CLIENT = 200;

    private final PeopleStore store;
    private final RoleBook roles;
    private final FactorRule rule;
    private final InstantSource wall;
    private final AtomicLong changes = new AtomicLong();

    Entrance(PeopleStore store, RoleBook roles, FactorRule rule, InstantSource wall) {
        this.store = store;
        this.roles = roles;
        this.rule = rule;
        this.wall = wall;
    }

    /**
     * Begins a session.
     *
     * @return its token, which is nowhere else
     */
    String begin(Account account, String address, String client) {
        String token = Secret.make();
        Instant now = now();
        Session session = new Session(
                UUID.randomUUID(),
                account.id(),
                now,
                now,
                now.plus(Session.LONGEST),
                address,
                client.length() > LONGEST_CLIENT ? client.substring(0, LONGEST_CLIENT) : client);
        store.begin(
                session,
                Secret.hash(token),
                SESSIONS_KEPT,
                note(account.name(), account.id(), "signed in", "from " + address));
        return token;
    }

    /** Who has this session; empty where it is unknown, over, or its account disabled. */
    public Optional<Visitor> bySession(String token) {
        Instant now = now();
        Optional<PeopleStore.Entered> entered = store.entered(Secret.hash(token))
                .filter(found -> found.account().isEnabled() && !found.session().isOver(now));
        entered.map(PeopleStore.Entered::session)
                .filter(session -> session.usedAt().plus(NOTED_EVERY).isBefore(now))
                .ifPresent(session -> store.touch(session.id(), now));
        return entered.map(found -> new Visitor(
                found.account(),
                allowed(found.account()),
                found.account().sites(),
                Optional.of(found.session()),
                Optional.empty()));
    }

    /** The account, where it may see anything now: neither disabled nor without a second factor that it must have. */
    public Optional<Account> seeing(UUID account) {
        return store.account(account)
                .filter(found -> found.isEnabled() && allowed(found).contains(Permission.SEE));
    }

    /** Who made this API token, with the rights that both have; empty where it is unknown or over. */
    public Optional<Visitor> byToken(String token) {
        Instant now = now();
        Optional<PeopleStore.Scripted> scripted = store.scripted(Secret.hash(token))
                .filter(found -> found.account().isEnabled()
                        && now.isBefore(found.token().endsAt()));
        scripted.map(PeopleStore.Scripted::token)
                .filter(used -> used.usedAt()
                        .filter(at -> at.plus(NOTED_EVERY).isAfter(now))
                        .isEmpty())
                .ifPresent(used -> store.touchToken(used.id(), now));
        return scripted.map(found -> visitor(found.token(), found.account()));
    }

    private Visitor visitor(ApiToken token, Account maker) {
        Set<Permission> both = EnumSet.noneOf(Permission.class);
        both.addAll(roles.of(token.role()));
        both.retainAll(allowed(maker));
        SiteScope sites = token.sites().and(maker.sites());
        return new Visitor(maker, both, sites, Optional.empty(), Optional.of(token));
    }

    /** Nothing at all where a second factor is asked for that is not there: an account can then only add it. */
    private Set<Permission> allowed(Account account) {
        return lacksFactor(account) ? Set.of() : roles.of(account.role());
    }

    /** Whether the account must have a second factor here, and has none. */
    public boolean lacksFactor(Account account) {
        return rule.asks(account)
                && store.factors()
                        .factor(account.id())
                        .filter(factor -> factor.confirmedAt().isPresent())
                        .isEmpty();
    }

    /** The sessions of an account, newest first. */
    public List<Session> sessions(Account account) {
        return store.sessions(account.id(), now());
    }

    /** Ends one session of an account; false where it has no such session. */
    public boolean end(Account account, UUID session) {
        boolean ended = store.end(
                account.id(), session, note(account.name(), account.id(), "session ended", session.toString()));
        changed();
        return ended;
    }

    /** Grows with every change here of who may do what: whoever keeps a visitor for long looks again then. */
    public long changes() {
        return changes.get();
    }

    void changed() {
        changes.incrementAndGet();
    }

    /** Of a sign-in. What was entered for a name that nobody has is not noted: it may be a password. */
    AccountNote failure(Optional<Account> account, String address) {
        return new AccountNote(
                now(),
                account.map(Account::name).orElse("nobody of that name"),
                account.map(Account::id),
                "sign-in failed",
                "from " + address);
    }

    void write(AccountNote note) {
        store.note(note);
    }

    AccountNote note(String who, UUID account, String what, String detail) {
        return new AccountNote(now(), who, Optional.of(account), what, detail);
    }

    /** To the millisecond, as it is stored. */
    private Instant now() {
        return wall.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
