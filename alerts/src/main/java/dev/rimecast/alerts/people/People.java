package dev.rimecast.alerts.people;

import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * Who may come in, what they may do, and which sites they see.
 *
 * @param roles the table of permissions
 * @param factors second factors
 */
public record People(
        RoleBook roles,
        SignIn signIn,
        Entrance entrance,
        Accounts accounts,
        Links links,
        Tokens tokens,
        SecondFactors factors) {
    private static final String DEMO = "an account of the demonstration has no password, so no second factor";
    private static final String NONE = "there is no second factor";

    /** @param wall the real time, also in a demonstration whose own runs faster */
    public static People of(PeopleStore store, InstantSource wall) {
        return of(store, FactorRule.OPTIONAL, wall);
    }

    /** @param rule whose accounts must have a second factor */
    public static People of(PeopleStore store, FactorRule rule, InstantSource wall) {
        return of(store, rule, wall, new Argon2id());
    }

    static People of(PeopleStore store, FactorRule rule, InstantSource wall, PasswordHasher hasher) {
        RoleBook roles = RoleBook.standard();
        Entrance entrance = new Entrance(store, roles, rule, wall);
        SecondFactors factors = new SecondFactors(store.factors(), rule, entrance, wall);
        return new People(
                roles,
                new SignIn(store, hasher, entrance, factors, wall),
                entrance,
                new Accounts(store, roles, entrance, wall),
                new Links(store, roles, hasher, entrance, wall),
                new Tokens(store, roles, entrance, wall),
                factors);
    }

    /** A value for whoever has shown the password, or how it was found. */
    public sealed interface Proved<T> {
        record Yes<T>(T value) implements Proved<T> {}

        record No<T>(SignIn.Outcome why) implements Proved<T> {}
    }

    /** Begins to add a second factor; refused where there is one. */
    public Answer<Proved<SecondFactors.Proposal>> proposeFactor(Account account, String current, String address) {
        if (account.isDemo()) {
            return new Answer.Refused<>(DEMO);
        }
        Optional<SignIn.Outcome> wrong = signIn.wrong(account, current, address);
        if (wrong.isPresent()) {
            return new Answer.Done<>(new Proved.No<>(wrong.get()));
        }
        return proved(factors.propose(account));
    }

    /** Makes other recovery codes in place of all there were. */
    public Answer<Proved<List<String>>> renewCodes(Account account, String current, String code, String address) {
        if (!factors.has(account)) {
            return new Answer.Refused<>(NONE);
        }
        Optional<SignIn.Outcome> wrong = wrongBoth(account, current, code, address);
        return new Answer.Done<>(
                wrong.isPresent() ? new Proved.No<>(wrong.get()) : new Proved.Yes<>(factors.renewCodes(account)));
    }

    /** Takes one's own second factor away; refused where it is asked for. */
    public Answer<Proved<Account>> removeFactor(Visitor by, String current, String code, String address) {
        if (!factors.has(by.account())) {
            return new Answer.Refused<>(NONE);
        }
        Optional<SignIn.Outcome> wrong = wrongBoth(by.account(), current, code, address);
        return wrong.isPresent() ? new Answer.Done<>(new Proved.No<>(wrong.get())) : proved(factors.removeOwn(by));
    }

    /** Takes the second factor of somebody away who has lost the device. */
    public Answer<Account> removeFactorOf(Visitor by, UUID id) {
        Optional<Account> found = accounts.one(by, id);
        if (found.isEmpty()) {
            return new Answer.NotFound<>();
        }
        return roles.covers(by.account().role(), found.get().role())
                ? factors.removeOf(by, found.get())
                : new Answer.Refused<>("the account may do more than you");
    }

    /** Both are asked for, even where a session is there (OWASP ASVS 5.0, 7.5.1). */
    private Optional<SignIn.Outcome> wrongBoth(Account account, String current, String code, String address) {
        return signIn.wrong(account, current, address).or(() -> signIn.secondFactor(account, code, address));
    }

    private static <T> Answer<Proved<T>> proved(Answer<T> answer) {
        if (answer instanceof Answer.Done<T> done) {
            return new Answer.Done<>(new Proved.Yes<>(done.value()));
        }
        return answer instanceof Answer.Refused<T> refused
                ? new Answer.Refused<>(refused.reason())
                : new Answer.NotFound<>();
    }

    /**
     * Changes a password for whoever knows the old one, and ends all of the account's sessions.
     *
     * @return how the old one was found; refused where the new one is not taken
     */
    public Answer<SignIn.Outcome> changePassword(Account account, String current, String next, String address) {
        Optional<SignIn.Outcome> wrong = signIn.wrong(account, current, address);
        if (wrong.isPresent()) {
            return new Answer.Done<>(wrong.get());
        }
        Answer<Account> changed = links.change(account, next);
        return changed instanceof Answer.Refused<Account> refused
                ? new Answer.Refused<>(refused.reason())
                : new Answer.Done<>(new SignIn.Outcome.Right());
    }
}
