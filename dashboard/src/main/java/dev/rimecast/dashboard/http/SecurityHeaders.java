package dev.rimecast.dashboard.http;

import io.javalin.http.Context;

/** Headers of every answer (OWASP ASVS 5.0, 3.4): nothing from elsewhere, nothing inline, in no frame. */
public final class SecurityHeaders {
    static final String CONTENT_POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
            + "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    private SecurityHeaders() {}

    public static void set(Context ctx) {
        ctx.header("Content-Security-Policy", CONTENT_POLICY);
        ctx.header("X-Content-Type-Options", "nosniff");
        ctx.header("X-Frame-Options", "DENY");
        ctx.header("Referrer-Policy", "no-referrer");
        ctx.header("Cross-Origin-Opener-Policy", "same-origin");
        ctx.header("Cross-Origin-Resource-Policy", "same-origin");
        ctx.header("Permissions-Policy", "camera=(), geolocation=(), microphone=()");
    }
}
