package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.util.Map;
import java.util.Set;

/**
 * Refuses what another site's page makes a browser send. A request that changes something must come from our own origin;
 * a server that listens on loopback only answers to loopback names only, since a foreign name that resolves here would
 * make a foreign page our own origin.
 */
public final class SameOrigin {
    private static final Set<String> READING = Set.of("GET", "HEAD", "OPTIONS");
    private static final Set<String> LOOPBACK = Set.of("localhost", "127.0.0.1", "[::1]");

    private final boolean loopbackOnly;

    public SameOrigin(String boundTo) {
        this.loopbackOnly = isLoopback(boundTo);
    }

    public void check(Context ctx) {
        if (loopbackOnly && !LOOPBACK.contains(name(ctx))) {
            String ours = ctx.scheme() + "://localhost:" + ctx.req().getLocalPort();
            throw new Problem(421, "foreign-host", "Not served under this name", "Use " + ours + '.', Map.of())
                    .asException();
        }
        if (isReading(ctx)) {
            return;
        }
        String site = ctx.header("Sec-Fetch-Site");
        String origin = ctx.header("Origin");
        boolean foreignSite = site != null && !site.equals("same-origin") && !site.equals("none");
        boolean foreignOrigin = origin != null && !origin.equals(ctx.scheme() + "://" + ctx.header("Host"));
        if (foreignSite || foreignOrigin) {
            throw new Problem(403, "foreign-origin", "Sent by another site's page", "Use our own pages.", Map.of())
                    .asException();
        }
    }

    /** Whether the request asks without changing anything. */
    public static boolean isReading(Context ctx) {
        return READING.contains(ctx.method().name());
    }

    private static String name(Context ctx) {
        String host = ctx.header("Host");
        if (host == null) {
            return "";
        }
        int port = host.lastIndexOf(':');
        return port > host.lastIndexOf(']') ? host.substring(0, port) : host;
    }

    private static boolean isLoopback(String host) {
        try {
            return InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            // binding will fail with a better message
            return false;
        }
    }
}
