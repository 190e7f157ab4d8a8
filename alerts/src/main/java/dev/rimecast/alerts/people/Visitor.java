package dev.rimecast.alerts.people;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import java.util.Optional;
import java.util.Set;

/**
 * Who makes a request, with what they may do and see now.
 *
 * @param permissions for a token those that its maker has, too
 * @param session absent for a token
 * @param token absent for a session
 */
public record Visitor(
        Account account,
        Set<Permission> permissions,
        SiteScope sites,
        Optional<Session> session,
        Optional<ApiToken> token) {

    public Visitor {
        permissions = Set.copyOf(permissions);
    }

    public boolean may(Permission permission) {
        return permissions.contains(permission);
    }

    /** How the audit names them. */
    public Person person() {
        return new Person(
                token.map(used -> account.name() + ", by token " + used.name()).orElse(account.name()));
    }
}
