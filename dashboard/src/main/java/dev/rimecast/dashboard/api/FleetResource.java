package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Views;
import dev.rimecast.dashboard.http.Payload;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.FleetJson;
import dev.rimecast.dashboard.json.SiteJson;
import io.javalin.http.Context;
import java.time.Duration;
import java.util.function.LongSupplier;
import org.jspecify.annotations.Nullable;

/**
 * {@code GET /api/v1/fleet} and {@code /api/v1/sites}.
 *
 * <p>Every screen asks for the same fleet, so one answer serves all of them for a second, or until an alert changes.
 */
final class FleetResource {
    private static final long KEEP_NANOS = Duration.ofSeconds(1).toNanos();

    private record Kept(Payload payload, long alertChanges, long builtNanos) {}

    private final Views views;
    private final Reply reply;
    private final LongSupplier alertChanges;
    private final LongSupplier monotonicNanos;
    private @Nullable Kept kept;

    FleetResource(Views views, Reply reply, LongSupplier alertChanges, LongSupplier monotonicNanos) {
        this.views = views;
        this.reply = reply;
        this.alertChanges = alertChanges;
        this.monotonicNanos = monotonicNanos;
    }

    void fleet(Context ctx) {
        reply.json(ctx, current());
    }

    /** Screens that ask at once wait for the one that builds, instead of all building the same. */
    private synchronized Payload current() {
        // read before the views: a change in between makes the answer look old, never new
        long changes = alertChanges.getAsLong();
        long now = monotonicNanos.getAsLong();
        Kept last = kept;
        if (last != null && last.alertChanges() == changes && now - last.builtNanos() < KEEP_NANOS) {
            return last.payload();
        }
        Payload payload = reply.payload(FleetJson.of(views.fleet()));
        kept = new Kept(payload, changes, now);
        return payload;
    }

    /** Forgets the kept answer, so that who changed something sees it. */
    synchronized void forget() {
        kept = null;
    }

    void sites(Context ctx) {
        reply.json(ctx, views.sites().stream().map(SiteJson::of).toList());
    }
}
