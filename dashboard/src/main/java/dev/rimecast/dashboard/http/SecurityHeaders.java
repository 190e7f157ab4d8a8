package dev.rimecast.dashboard.http;

import io.javalin.http.Context;
import java.util.function.BiConsumer;

/** Headers of every answer (OWASP ASVS 5.0, 3.4): nothing from elsewhere, nothing inline, in no frame. */
public final class SecurityHeaders {
    static final String CONTENT_POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
            + "connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    private SecurityHeaders() {}

    public static void set(Context ctx) {
        each(ctx.scheme().equals("https"), ctx::header);
    }

    /** Those that hold whatever the answer is. */
    static void each(boolean overTls, BiConsumer<String, String> header) {
        if (overTls) {
            // A year at least, and the names below ours (3.4.1).
            header.accept("Strict-Transport-Security", "max-age=31536000; includeSubDomains");
        }
        header.accept("Content-Security-Policy", CONTENT_POLICY);
        header.accept("X-Content-Type-Options", "nosniff");
        header.accept("X-Frame-Options", "DENY");
        header.accept("Referrer-Policy", "no-referrer");
        header.accept("Cross-Origin-Opener-Policy", "same-origin");
        header.accept("Cross-Origin-Resource-Policy", "same-origin");
        header.accept("Permissions-Policy", "camera=(), geolocation=(), microphone=()");
    }
}
