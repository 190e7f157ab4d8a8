package dev.rimecast.alerts.people;

import java.time.InstantSource;
import java.util.Optional;

/**
 * Who may come in, what they may do, and which sites they see.
 *
 * @param roles the table of permissions
 */
public record People(RoleBook roles, SignIn signIn, Entrance entrance, Accounts accounts, Links links, Tokens tokens) {

    /** @param wall the real time, also in a demonstration whose own runs faster */
    public static People of(PeopleStore store, InstantSource wall) {
        return of(store, wall, new Argon2id());
    }

    static People of(PeopleStore store, InstantSource wall, PasswordHasher hasher) {
        RoleBook roles = RoleBook.standard();
        Entrance entrance = new Entrance(store, roles, wall);
        return new People(
                roles,
                new SignIn(store, hasher, entrance, wall),
                entrance,
                new Accounts(store, roles, entrance, wall),
                new Links(store, hasher, entrance, wall),
                new Tokens(store, roles, entrance, wall));
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
