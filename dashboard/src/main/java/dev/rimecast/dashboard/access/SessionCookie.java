package dev.rimecast.dashboard.access;

import io.javalin.http.Context;
import io.javalin.http.Cookie;
import io.javalin.http.SameSite;
import java.util.Optional;

/**
 * The cookies: a session's token, and the mark of a browser that left a demonstration. Scripts can't read them, other
 * sites' pages can't make a browser send them with a change, and the browser forgets them when it closes. Cookies don't
 * know ports, so the port is in the name: two servers on one machine don't sign each other's people out.
 */
public final class SessionCookie {
    private static final int UNTIL_THE_BROWSER_CLOSES = -1;

    private SessionCookie() {}

    public static Optional<String> of(Context ctx) {
        return Optional.ofNullable(ctx.cookie(name(ctx))).filter(token -> !token.isEmpty());
    }

    public static void set(Context ctx, String token) {
        put(ctx, name(ctx), token, UNTIL_THE_BROWSER_CLOSES);
        put(ctx, leftName(ctx), "", 0);
    }

    /** Forgets the session. */
    public static void clear(Context ctx) {
        put(ctx, name(ctx), "", 0);
    }

    /** Remembers that somebody left, so that a demonstration does not sign them in by itself. */
    static void markLeft(Context ctx) {
        put(ctx, leftName(ctx), "1", UNTIL_THE_BROWSER_CLOSES);
    }

    static boolean hasLeft(Context ctx) {
        return "1".equals(ctx.cookie(leftName(ctx)));
    }

    private static void put(Context ctx, String name, String value, int maxAgeSeconds) {
        ctx.cookie(new Cookie(name, value, "/", maxAgeSeconds, isSecure(ctx), true, null, SameSite.LAX));
    }

    private static String name(Context ctx) {
        return named(ctx, "session");
    }

    private static String leftName(Context ctx) {
        return named(ctx, "left");
    }

    /**
     * With the port that the browser came to, which is a proxy's where there is one: then every instance behind it has the same.
     * Over TLS a name that browsers take from this very host only, and never in the clear (RFC 6265bis, 4.1.3.2). */
    private static String named(Context ctx, String what) {
        return (isSecure(ctx) ? "__Host-" : "") + "rimecast-" + what + '-'
                + ctx.req().getServerPort();
    }

    private static boolean isSecure(Context ctx) {
        return ctx.scheme().equals("https");
    }
}
