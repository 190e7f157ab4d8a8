package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.http.Query;
import io.javalin.http.Context;
import java.time.Instant;

/** From when to when an export is asked for; everything where nothing is said. */
record Span(Instant from, Instant to) {
    static final Span EVER = new Span(Instant.EPOCH, Instant.parse("9999-01-01T00:00:00Z"));

    /** Of the parameters {@code from} (inclusive) and {@code to} (exclusive). */
    static Span of(Context ctx) {
        return new Span(
                Query.instant(ctx, "from").orElse(EVER.from()),
                Query.instant(ctx, "to").orElse(EVER.to()));
    }

    boolean includes(Instant time) {
        return !time.isBefore(from) && time.isBefore(to);
    }
}
