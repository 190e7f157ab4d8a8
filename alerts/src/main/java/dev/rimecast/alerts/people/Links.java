package dev.rimecast.alerts.people;

import dev.rimecast.alerts.view.SiteScope;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.UUID;

/** Links that can be used once, and passwords, which people choose by one or change themselves. */
public final class Links {
    static final Duration SET_UP_LASTS = Duration.ofHours(1);
    static final Duration RESET_LASTS = Duration.ofHours(24);
    private static final String BY_ITSELF = "Rimecast";

    private final PeopleStore store;
    private final RoleBook roles;
    private final PasswordHasher hasher;
    private final Entrance entrance;
    private final InstantSource wall;
    private final PasswordRules rules = new PasswordRules();

    Links(PeopleStore store, RoleBook roles, PasswordHasher hasher, Entrance entrance, InstantSource wall) {
        this.store = store;
        this.roles = roles;
        this.hasher = hasher;
        this.entrance = entrance;
        this.wall = wall;
    }

    /** A link to make the first administrator, where there is none; an older one no longer works. */
    public Optional<String> setUp() {
        boolean there = store.accounts().stream()
                .anyMatch(account -> account.role() == Role.ADMINISTRATOR
                        && account.isEnabled()
                        && account.hasPassword()
                        && account.sites().isEvery());
        if (there) {
            return Optional.empty();
        }
        String secret = Secret.make();
        Instant now = now();
        store.offer(
                new Link(Optional.empty(), now, now.plus(SET_UP_LASTS)),
                Secret.hash(secret),
                new AccountNote(now, BY_ITSELF, Optional.empty(), "set-up link made", ""));
        return Optional.of(secret);
    }

    /** Makes the first administrator. */
    public Answer<Account> setUp(String link, String name, String password) {
        if (openLink(link).filter(open -> open.account().isEmpty()).isEmpty()) {
            return new Answer.NotFound<>();
        }
        Optional<String> problem = Accounts.nameProblem(name).or(() -> rules.problem(password, name));
        if (problem.isPresent()) {
            return new Answer.Refused<>(problem.get());
        }
        Account first = new Account(
                UUID.randomUUID(), name, Role.ADMINISTRATOR, SiteScope.EVERY, false, true, now(), Optional.empty());
        boolean made = store.redeem(
                Secret.hash(link),
                now(),
                first,
                hasher.hash(PasswordRules.normal(password)),
                entrance.note(name, first.id(), "set up", Accounts.described(first)));
        return made ? new Answer.Done<>(first) : new Answer.Refused<>("the link was used, or the name is taken");
    }

    /**
     * A link by which somebody chooses a password; an older one of theirs no longer works. Refused for an account that may
     * do more than whoever asks, who could use the link in its place.
     */
    public Answer<String> offer(Visitor by, Account account) {
        if (account.isDemo()) {
            return new Answer.Refused<>("an account of the demonstration has no password");
        }
        if (!roles.covers(by.account().role(), account.role())) {
            return new Answer.Refused<>("the account may do more than you");
        }
        String secret = Secret.make();
        Instant now = now();
        store.offer(
                new Link(Optional.of(account.id()), now, now.plus(RESET_LASTS)),
                Secret.hash(secret),
                entrance.note(by.person().name(), account.id(), "password link made", ""));
        return new Answer.Done<>(secret);
    }

    /** Sets the password of the account that a link is for. */
    public Answer<Account> redeem(String link, String password) {
        Optional<Account> found = openLink(link).flatMap(Link::account).flatMap(store::account);
        if (found.isEmpty()) {
            return new Answer.NotFound<>();
        }
        Account account = found.get();
        Optional<String> problem = rules.problem(password, account.name());
        if (problem.isPresent()) {
            return new Answer.Refused<>(problem.get());
        }
        boolean done = store.redeem(
                Secret.hash(link),
                now(),
                hasher.hash(PasswordRules.normal(password)),
                entrance.note(account.name(), account.id(), "password set by link", ""));
        entrance.changed();
        return done ? new Answer.Done<>(account) : new Answer.NotFound<>();
    }

    private Optional<Link> openLink(String link) {
        return store.link(Secret.hash(link), now());
    }

    /** Sets another password. The caller has checked the old one. Ends all sessions of the account. */
    public Answer<Account> change(Account account, String password) {
        if (account.isDemo()) {
            return new Answer.Refused<>("an account of the demonstration has no password");
        }
        Optional<String> problem = rules.problem(password, account.name());
        if (problem.isPresent()) {
            return new Answer.Refused<>(problem.get());
        }
        store.setPassword(
                account.id(),
                hasher.hash(PasswordRules.normal(password)),
                entrance.note(account.name(), account.id(), "password changed", ""));
        entrance.changed();
        return new Answer.Done<>(account);
    }

    private Instant now() {
        return wall.instant().truncatedTo(ChronoUnit.MILLIS);
    }
}
