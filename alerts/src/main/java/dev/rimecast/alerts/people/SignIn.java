package dev.rimecast.alerts.people;

import java.time.Duration;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Coming in with name and password, or into a demonstration without. */
public final class SignIn {
    private static final int LONGEST_TRIED = 1_000;

    private final PeopleStore store;
    private final PasswordHasher hasher;
    private final Entrance entrance;
    private final SecondFactors factors;
    private final InstantSource wall;
    private final Throttle throttle = new Throttle();
    /** Checked where there is no account, so that this takes as long as a wrong password. */
    private final String nobodysHash;

    SignIn(PeopleStore store, PasswordHasher hasher, Entrance entrance, SecondFactors factors, InstantSource wall) {
        this.store = store;
        this.hasher = hasher;
        this.entrance = entrance;
        this.factors = factors;
        this.wall = wall;
        this.nobodysHash = hasher.hash(Secret.make());
    }

    /** How an attempt ended. */
    public sealed interface Outcome {
        /** @param sessionToken for the browser's cookie */
        record In(String sessionToken) implements Outcome {}

        /** The password is right, and nothing was begun. */
        record Right() implements Outcome {}

        /** The password is right; the account has a second factor, and no code came. */
        record CodeNeeded() implements Outcome {}

        /** The password is right, the code is not, or was used. */
        record WrongCode() implements Outcome {}

        /** Whatever was wrong: what it was is told to nobody. */
        record Wrong() implements Outcome {}

        /** Too many failures: nothing was looked at. */
        record Wait(Duration left) implements Outcome {}
    }

    /**
     * Tries a password. Exactly one hash is computed and exactly one line is noted, whether there is such an account or not:
     * who measures how long an answer takes learns no names.
     *
     * @param address where the request comes from
     * @param client what the browser calls itself
     */
    public Outcome withPassword(String name, String password, String address, String client) {
        return withPassword(name, password, "", address, client);
    }

    /** @param code of the second factor; empty where none was asked for yet */
    public Outcome withPassword(String name, String password, String code, String address, String client) {
        Duration wait = throttle.attempt(name, address, wall.instant());
        if (!wait.isZero()) {
            return new Outcome.Wait(wait);
        }
        Optional<PeopleStore.Known> known = password.length() <= LONGEST_TRIED ? store.byName(name) : Optional.empty();
        String hash = known.flatMap(PeopleStore.Known::passwordHash).orElse(nobodysHash);
        String normal = PasswordRules.normal(password.length() <= LONGEST_TRIED ? password : "");
        boolean right = hasher.matches(normal, hash);
        Optional<Account> account = known.map(PeopleStore.Known::account);
        if (!right || known.flatMap(PeopleStore.Known::passwordHash).isEmpty() || !isEnabled(account)) {
            entrance.write(entrance.failure(account, address));
            return new Outcome.Wrong();
        }
        throttle.succeeded(name, address);
        if (hasher.isOutdated(hash)) {
            store.renewHash(account.orElseThrow().id(), hasher.hash(normal));
        }
        return secondFactor(account.orElseThrow(), code, address)
                .orElseGet(() -> new Outcome.In(entrance.begin(account.orElseThrow(), address, client)));
    }

    /** What is still in the way of somebody whose password is right. */
    Optional<Outcome> secondFactor(Account account, String code, String address) {
        if (!factors.has(account)) {
            return Optional.empty();
        }
        if (code.isBlank()) {
            return Optional.of(new Outcome.CodeNeeded());
        }
        SecondFactors.Check check = factors.check(account, code, address);
        if (check instanceof SecondFactors.Check.Wait wait) {
            return Optional.of(new Outcome.Wait(wait.left()));
        }
        return check instanceof SecondFactors.Check.Wrong ? Optional.of(new Outcome.WrongCode()) : Optional.empty();
    }

    private static boolean isEnabled(Optional<Account> account) {
        return account.filter(Account::isEnabled).isPresent();
    }

    /** Whether this is the account's password; throttled like a sign-in. */
    Optional<Outcome> wrong(Account account, String password, String address) {
        Duration wait = throttle.attempt(account.name(), address, wall.instant());
        if (!wait.isZero()) {
            return Optional.of(new Outcome.Wait(wait));
        }
        String hash = store.byName(account.name())
                .flatMap(PeopleStore.Known::passwordHash)
                .orElse(nobodysHash);
        if (!hasher.matches(PasswordRules.normal(password), hash)) {
            return Optional.of(new Outcome.Wrong());
        }
        throttle.succeeded(account.name(), address);
        return Optional.empty();
    }

    /** The accounts of a demonstration that can be entered. */
    public List<Account> demoAccounts() {
        return store.accounts().stream()
                .filter(account -> account.isDemo() && account.isEnabled())
                .toList();
    }

    /** Comes into a demonstration; only to be offered there. */
    public Optional<String> asDemo(UUID account, String address, String client) {
        return demoAccounts().stream()
                .filter(demo -> demo.id().equals(account))
                .findFirst()
                .map(demo -> entrance.begin(demo, address, client));
    }
}
