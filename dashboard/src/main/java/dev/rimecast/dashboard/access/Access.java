package dev.rimecast.dashboard.access;

import dev.rimecast.alerts.people.Permission;
import io.javalin.security.RouteRole;
import java.util.Optional;

/**
 * Who may use a route. Each route names exactly one; one without is refused to everybody.
 *
 * @param permission what a visitor must have, beside being known
 * @param everySite whether the visitor must see every site, since what the route does holds for all of them
 */
public record Access(Kind kind, Optional<Permission> permission, boolean everySite) implements RouteRole {

    /** How a visitor is known. */
    public enum Kind {
        /** Need not be known. */
        OPEN,
        /** By a link of a site in the body of the request, whoever sends it. */
        BY_LINK,
        /** By session; a browser without one is led to the sign-in page. */
        PAGE,
        /** By session or API token. */
        KNOWN,
        /** By session only: what a script must not do. */
        IN_PERSON
    }

    public static final Access OPEN = new Access(Kind.OPEN, Optional.empty(), false);
    public static final Access BY_LINK = new Access(Kind.BY_LINK, Optional.empty(), false);
    public static final Access PAGE = new Access(Kind.PAGE, Optional.empty(), false);
    public static final Access KNOWN = new Access(Kind.KNOWN, Optional.empty(), false);
    public static final Access IN_PERSON = new Access(Kind.IN_PERSON, Optional.empty(), false);

    public static Access may(Permission permission) {
        return new Access(Kind.KNOWN, Optional.of(permission), false);
    }

    /** For what holds for all sites at once. */
    public static Access mayForEverySite(Permission permission) {
        return new Access(Kind.KNOWN, Optional.of(permission), true);
    }

    public static Access inPerson(Permission permission) {
        return new Access(Kind.IN_PERSON, Optional.of(permission), false);
    }
}
