package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Payload;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.FleetJson;
import dev.rimecast.dashboard.json.SiteJson;
import io.javalin.http.Context;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.LongSupplier;

/**
 * {@code GET /api/v1/fleet} and {@code /api/v1/sites}.
 *
 * <p>Many screens ask for the same fleet, so one answer serves all that see the same sites, for a second or until an
 * alert changes.
 */
final class FleetResource {
    private static final long KEEP_NANOS = Duration.ofSeconds(1).toNanos();

    private static final int MOST_KEPT = 50;

    private record Kept(Payload payload, long alertChanges, long builtNanos) {}

    private final Fleet fleet;
    private final Reply reply;
    private final LongSupplier alertChanges;
    private final LongSupplier monotonicNanos;
    private final Map<SiteScope, Kept> kept = new LinkedHashMap<>(16, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<SiteScope, Kept> eldest) {
            return size() > MOST_KEPT;
        }
    };

    FleetResource(Fleet fleet, Reply reply, LongSupplier alertChanges, LongSupplier monotonicNanos) {
        this.fleet = fleet;
        this.reply = reply;
        this.alertChanges = alertChanges;
        this.monotonicNanos = monotonicNanos;
    }

    void fleet(Context ctx) {
        reply.json(ctx, current(fleet.sites(ctx), fleet.views(ctx)));
    }

    /** Screens that ask at once wait for the one that builds, instead of all building the same. */
    private synchronized Payload current(SiteScope sites, Views views) {
        // read before the views: a change in between makes the answer look old, never new
        long changes = alertChanges.getAsLong();
        long now = monotonicNanos.getAsLong();
        Kept last = kept.get(sites);
        if (last != null && last.alertChanges() == changes && now - last.builtNanos() < KEEP_NANOS) {
            return last.payload();
        }
        Payload payload = reply.payload(FleetJson.of(views.fleet()));
        kept.put(sites, new Kept(payload, changes, now));
        return payload;
    }

    /** Forgets the kept answers, so that who changed something sees it. */
    synchronized void forget() {
        kept.clear();
    }

    void sites(Context ctx) {
        reply.json(ctx, fleet.views(ctx).sites().stream().map(SiteJson::of).toList());
    }
}
