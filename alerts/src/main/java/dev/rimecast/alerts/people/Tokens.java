package dev.rimecast.alerts.people;

import dev.rimecast.alerts.view.SiteScope;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** API tokens: for scripts, with no more rights than their maker's. */
public final class Tokens {
    private static final int LONGEST_NAME = 60;
    private static final int MOST = 50;

    private final PeopleStore store;
    private final RoleBook roles;
    private final Entrance entrance;
    private final InstantSource wall;

    Tokens(PeopleStore store, RoleBook roles, Entrance entrance, InstantSource wall) {
        this.store = store;
        this.roles = roles;
        this.entrance = entrance;
        this.wall = wall;
    }

    /** @param secret the token itself, which is nowhere else */
    public record Made(ApiToken token, String secret) {}

    /** The visitor's own, with the sites that they can still be used for. */
    public List<ApiToken> list(Visitor by) {
        return store.tokens(by.account().id()).stream()
                .map(token -> new ApiToken(
                        token.id(),
                        token.account(),
                        token.name(),
                        token.role(),
                        token.sites().and(by.sites()),
                        token.madeAt(),
                        token.endsAt(),
                        token.usedAt()))
                .toList();
    }

    public Answer<Made> make(Visitor by, String name, Role role, SiteScope sites, Instant endsAt) {
        Instant now = wall.instant().truncatedTo(ChronoUnit.MILLIS);
        Optional<String> problem = problem(by, name, role, sites, endsAt, now);
        if (problem.isPresent()) {
            return new Answer.Refused<>(problem.get());
        }
        String secret = Secret.make();
        ApiToken token = new ApiToken(
                UUID.randomUUID(),
                by.account().id(),
                name,
                role,
                sites,
                now,
                endsAt.truncatedTo(ChronoUnit.MILLIS),
                Optional.empty());
        store.add(
                token,
                Secret.hash(secret),
                entrance.note(by.person().name(), by.account().id(), "token made", name + ", " + role.code()));
        return new Answer.Done<>(new Made(token, secret));
    }

    private Optional<String> problem(Visitor by, String name, Role role, SiteScope sites, Instant endsAt, Instant now) {
        if (name.isBlank() || name.length() > LONGEST_NAME) {
            return Optional.of("a token needs a name of at most " + LONGEST_NAME + " characters: say what it is for");
        }
        if (!by.permissions().containsAll(roles.of(role))) {
            return Optional.of("a token can't do more than you");
        }
        if (!by.sites().includes(sites)) {
            return Optional.of("a token can't see sites that you don't see yourself");
        }
        if (!endsAt.isAfter(now) || endsAt.isAfter(now.plus(ApiToken.LONGEST))) {
            return Optional.of("the end must be later than now, within a year");
        }
        return store.tokens(by.account().id()).size() >= MOST
                ? Optional.of("you have " + MOST + " tokens already: take some back first")
                : Optional.empty();
    }

    /** Takes one of the visitor's own back; false where there is none. */
    public boolean revoke(Visitor by, UUID token) {
        boolean revoked = store.revoke(
                by.account().id(),
                token,
                entrance.note(by.person().name(), by.account().id(), "token taken back", token.toString()));
        entrance.changed();
        return revoked;
    }
}
