package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.ApiToken;
import dev.rimecast.alerts.people.Permission;
import dev.rimecast.alerts.people.SecondFactors;
import dev.rimecast.alerts.people.Session;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.alerts.view.SiteScope;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** Accounts, sessions and tokens on the wire; never a password or the hash of anything. */
public final class PeopleJson {
    private PeopleJson() {}

    /**
     * @param sites left out for every site
     * @param secondFactor whether signing in takes a code, too
     */
    public record AccountJson(
            UUID id,
            String name,
            String role,
            Optional<List<String>> sites,
            boolean demo,
            boolean hasPassword,
            boolean secondFactor,
            Instant createdAt,
            Optional<Instant> disabledAt) {
        public static AccountJson of(Account account, boolean secondFactor) {
            return new AccountJson(
                    account.id(),
                    account.name(),
                    account.role().code(),
                    PeopleJson.sites(account.sites()),
                    account.isDemo(),
                    account.hasPassword(),
                    secondFactor,
                    account.createdAt(),
                    account.disabledAt());
        }
    }

    /**
     * Who is asking.
     *
     * @param forgeryToken to be sent back with each change; left out for an API token, which needs none
     * @param secondFactorMissing whether nothing else is allowed before a second factor is added
     * @param endsAt when they must come in anew
     */
    public record MeJson(
            AccountJson account,
            List<String> permissions,
            Optional<List<String>> sites,
            Optional<String> token,
            Optional<String> forgeryToken,
            boolean secondFactorMissing,
            Instant endsAt) {
        public static MeJson of(Visitor visitor, Optional<String> forgeryToken, SecondFactors.Standing factor) {
            boolean has = factor.since().isPresent();
            return new MeJson(
                    AccountJson.of(visitor.account(), has),
                    PeopleJson.permissions(visitor.permissions()),
                    PeopleJson.sites(visitor.sites()),
                    visitor.token().map(ApiToken::name),
                    forgeryToken,
                    factor.isAsked() && !has,
                    visitor.session()
                            .map(Session::endsAt)
                            .or(() -> visitor.token().map(ApiToken::endsAt))
                            .orElseThrow());
        }
    }

    /**
     * One's own second factor.
     *
     * @param asked whether this installation asks for one
     * @param since left out where there is none
     * @param codesLeft recovery codes that were not used
     */
    public record FactorJson(boolean asked, Optional<Instant> since, int codesLeft) {
        public static FactorJson of(SecondFactors.Standing standing) {
            return new FactorJson(standing.isAsked(), standing.since(), standing.codesLeft());
        }
    }

    /**
     * What a device needs to make codes; sent once.
     *
     * @param picture of the address, for a camera
     */
    public record ProposedJson(String secret, String uri, PictureJson picture) {}

    /**
     * Dark squares on light, as the data of an SVG path.
     *
     * @param side of the whole with its light margin, in squares
     */
    public record PictureJson(int side, String path) {}

    /** Sent once. */
    public record RecoveryJson(List<String> recoveryCodes) {}

    /** @param current whether it is the one that asks */
    public record SessionJson(
            UUID id, Instant beganAt, Instant usedAt, Instant endsAt, String address, String client, boolean current) {
        public static SessionJson of(Session session, Optional<Session> asking) {
            return new SessionJson(
                    session.id(),
                    session.beganAt(),
                    session.usedAt(),
                    session.endsAt(),
                    session.address(),
                    session.client(),
                    asking.map(Session::id).filter(session.id()::equals).isPresent());
        }
    }

    /** @param secret the token itself, sent once: when it is made */
    public record TokenJson(
            UUID id,
            String name,
            String role,
            Optional<List<String>> sites,
            Instant madeAt,
            Instant endsAt,
            Optional<Instant> usedAt,
            Optional<String> secret) {
        public static TokenJson of(ApiToken token, Optional<String> secret) {
            return new TokenJson(
                    token.id(),
                    token.name(),
                    token.role().code(),
                    PeopleJson.sites(token.sites()),
                    token.madeAt(),
                    token.endsAt(),
                    token.usedAt(),
                    secret);
        }
    }

    /** An account that was just made, with the path of the link by which its owner chooses a password. */
    public record LinkedJson(AccountJson account, String link) {}

    public record RoleJson(String role, List<String> permissions) {}

    /** An account of a demonstration. */
    public record DemoJson(UUID id, String name, String role) {
        public static DemoJson of(Account account) {
            return new DemoJson(account.id(), account.name(), account.role().code());
        }
    }

    public static List<String> permissions(Collection<Permission> permissions) {
        return permissions.stream().sorted().map(Permission::code).toList();
    }

    private static Optional<List<String>> sites(SiteScope scope) {
        return scope.limit().map(sites -> sites.stream().sorted().toList());
    }
}
