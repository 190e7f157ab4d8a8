package dev.rimecast.dashboard.access;

import dev.rimecast.alerts.people.Account;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.Permission;
import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.people.Secret;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.SameOrigin;
import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpStatus;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/**
 * Stands before every route: finds out who makes the request, and whether the route's {@link Access} lets them in. A
 * change by session must bring the session's forgery token, which only our own pages can know (ASVS 5.0, 3.5.1).
 */
public final class Gate {
    /** The header that a page sends back with every change. */
    public static final String FORGERY_HEADER = "Rimecast-Forgery-Token";

    private static final String VISITOR = "rimecast.visitor";
    /** Where a second factor is added. */
    private static final String OWN_PAGE = "/account";

    private static final String BEARER = "Bearer ";

    private final People people;
    private final boolean demo;

    /** @param demo whether a browser comes in by itself, as the operator of the demonstration */
    public Gate(People people, boolean demo) {
        this.people = people;
        this.demo = demo;
    }

    public void install(RoutesConfig routes) {
        routes.beforeMatched(this::check);
    }

    /** Who makes this request; only for routes that need somebody. */
    public static Visitor visitor(Context ctx) {
        return known(ctx).orElseThrow(() -> notSignedIn(ctx));
    }

    /** Who makes this request, where that is known. */
    public static Optional<Visitor> known(Context ctx) {
        return Optional.ofNullable(ctx.attribute(VISITOR));
    }

    private void check(Context ctx) {
        List<Access> rules = ctx.routeRoles().stream().map(Access.class::cast).toList();
        if (rules.size() != 1) {
            throw new IllegalStateException(ctx.method() + " " + ctx.path() + " has no rule of access");
        }
        Access access = rules.get(0);
        Optional<Visitor> visitor = find(ctx);
        visitor.ifPresent(who -> ctx.attribute(VISITOR, who));
        switch (access.kind()) {
            case OPEN, BY_LINK -> {}
            case PAGE -> page(ctx, visitor);
            case KNOWN -> let(ctx, access, visitor.orElseThrow(() -> notSignedIn(ctx)));
            case IN_PERSON -> {
                Visitor who = visitor.orElseThrow(() -> notSignedIn(ctx));
                if (who.session().isEmpty()) {
                    throw notPermitted("Only a person who signed in can do this, no API token.");
                }
                let(ctx, access, who);
            }
        }
    }

    /** Tells a long answer whether its visitor may still be here. */
    public StillIn watch(Context ctx) {
        Optional<String> authorization = Optional.ofNullable(ctx.header("Authorization"));
        Optional<String> cookie = SessionCookie.of(ctx);
        return new StillIn(people.entrance(), visitor(ctx), () -> find(authorization, cookie), System::nanoTime);
    }

    private Optional<Visitor> find(Context ctx) {
        return find(Optional.ofNullable(ctx.header("Authorization")), SessionCookie.of(ctx));
    }

    /** A request with an API token is never taken for its browser's session. */
    private Optional<Visitor> find(Optional<String> authorization, Optional<String> cookie) {
        if (authorization.isPresent()) {
            return authorization
                    .filter(value -> value.regionMatches(true, 0, BEARER, 0, BEARER.length()))
                    .flatMap(value -> people.entrance()
                            .byToken(value.substring(BEARER.length()).strip()));
        }
        return cookie.flatMap(people.entrance()::bySession);
    }

    private static void let(Context ctx, Access access, Visitor who) {
        refusal(access, who).ifPresent(why -> {
            throw notPermitted(why);
        });
        if (who.session().isPresent() && !SameOrigin.isReading(ctx)) {
            String sent = Objects.requireNonNullElse(ctx.header(FORGERY_HEADER), "");
            String expected = SessionCookie.of(ctx).map(Secret::forgeryToken).orElseThrow();
            if (!Secret.same(sent, expected)) {
                throw new Problem(
                                403,
                                "forgery-token",
                                "Sent by no page of ours",
                                "Send the forgeryToken of /api/v1/session as the header " + FORGERY_HEADER + '.',
                                Map.of())
                        .asException();
            }
        }
    }

    /** Why somebody known is not let in by this rule; empty where they are. */
    private static Optional<String> refusal(Access access, Visitor who) {
        Optional<Permission> missing = access.permission().filter(needed -> !who.may(needed));
        if (missing.isPresent()) {
            return Optional.of(notAllowed(missing.get()));
        }
        return access.everySite() && !who.sites().isEvery()
                ? Optional.of("This holds for every site, and you see only some: ask somebody who sees all of them.")
                : Optional.empty();
    }

    private static String notAllowed(Permission missing) {
        return "Your role does not allow this: " + missing.code() + '.';
    }

    private void page(Context ctx, Optional<Visitor> visitor) {
        if (visitor.isPresent()) {
            if (!ctx.path().equals(OWN_PAGE)
                    && people.entrance().lacksFactor(visitor.get().account())) {
                ctx.header("Cache-Control", "no-store");
                ctx.redirect(OWN_PAGE, HttpStatus.SEE_OTHER);
                ctx.skipRemainingHandlers();
            }
            return;
        }
        Optional<Account> operator = demo && !SessionCookie.hasLeft(ctx) ? operator() : Optional.empty();
        if (operator.isPresent()) {
            enter(ctx, operator.get());
            return;
        }
        ctx.header("Cache-Control", "no-store");
        String there = ctx.path() + (ctx.queryString() == null ? "" : '?' + ctx.queryString());
        String then = there.equals("/") ? "" : "?then=" + URLEncoder.encode(there, StandardCharsets.UTF_8);
        ctx.redirect("/sign-in" + then, HttpStatus.SEE_OTHER);
        ctx.skipRemainingHandlers();
    }

    private Optional<Account> operator() {
        return people.signIn().demoAccounts().stream()
                .filter(account ->
                        account.role() == Role.OPERATOR && account.sites().isEvery())
                .findFirst();
    }

    /** Signs a browser in as somebody of the demonstration, who is known from this request on. */
    private void enter(Context ctx, Account account) {
        Optional<String> token = people.signIn().asDemo(account.id(), ctx.ip(), client(ctx));
        token.ifPresent(value -> SessionCookie.set(ctx, value));
        token.flatMap(people.entrance()::bySession).ifPresent(who -> ctx.attribute(VISITOR, who));
    }

    /** Whether a route with this rule would let the visitor read: for what a page holds of such a route. */
    public static boolean lets(Context ctx, Access access) {
        return known(ctx).filter(who -> refusal(access, who).isEmpty()).isPresent();
    }

    /** What the browser calls itself. */
    public static String client(Context ctx) {
        return Objects.requireNonNullElse(ctx.userAgent(), "");
    }

    /** Ends the browser's session. */
    public static void leave(Context ctx) {
        SessionCookie.clear(ctx);
        SessionCookie.markLeft(ctx);
    }

    /** Refuses where a permission is missing that the route's own does not include. */
    public static void require(Context ctx, Permission permission) {
        if (!visitor(ctx).may(permission)) {
            throw notPermitted(notAllowed(permission));
        }
    }

    private static RuntimeException notSignedIn(Context ctx) {
        ctx.header("WWW-Authenticate", "Bearer");
        return new Problem(401, "not-signed-in", "Nobody is signed in", "Sign in, or send an API token.", Map.of())
                .asException();
    }

    private static RuntimeException notPermitted(String detail) {
        return new Problem(403, "not-permitted", "Not allowed", detail, Map.of()).asException();
    }
}
