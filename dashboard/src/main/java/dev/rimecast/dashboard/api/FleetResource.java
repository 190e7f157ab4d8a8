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
import java.util.Map;
import java.util.Optional;

/** {@code GET /api/v1/fleet}, kept for all who see the same sites, and {@code /api/v1/sites}. */
final class FleetResource {
    /** As many as a large screen shows of the fleet, and some to scroll to. */
    static final int FIRST_ROWS = 100;

    /** A page doesn't wait longer for its first rows than its scripts take to come. */
    private static final Duration SOON = Duration.ofMillis(100);

    /** @param whole ready to be sent */
    record Listed(Payload whole, FleetJson first) {}

    private final Fleet fleet;
    private final Reply reply;
    private final KeptAnswers<SiteScope, Listed> kept;

    FleetResource(Fleet fleet, Reply reply, KeptAnswers<SiteScope, Listed> kept) {
        this.fleet = fleet;
        this.reply = reply;
        this.kept = kept;
    }

    void fleet(Context ctx) {
        Views views = fleet.views(ctx);
        reply.json(ctx, kept.of(fleet.sites(ctx), () -> listed(views)).whole());
    }

    /** The first rows of the same answer; empty where they would take too long for a page to wait. */
    Optional<FleetJson> first(Context ctx) {
        Views views = fleet.views(ctx);
        return kept.soon(fleet.sites(ctx), () -> listed(views), SOON).map(Listed::first);
    }

    private Listed listed(Views views) {
        FleetJson all = FleetJson.of(views.fleet());
        return new Listed(reply.payload(all).packedNow(), all.first(FIRST_ROWS));
    }

    void sites(Context ctx) {
        Map<String, String> mail = fleet.inquiries(ctx).mailContacts(SiteScope.EVERY);
        reply.json(
                ctx,
                fleet.views(ctx).sites().stream()
                        .map(site -> SiteJson.of(site, Optional.ofNullable(mail.get(site.id()))))
                        .toList());
    }
}
