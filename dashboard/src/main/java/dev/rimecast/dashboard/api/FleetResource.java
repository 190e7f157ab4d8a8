package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Payload;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.FleetJson;
import dev.rimecast.dashboard.json.SiteJson;
import io.javalin.http.Context;
import java.util.Map;
import java.util.Optional;

/** {@code GET /api/v1/fleet}, kept for all who see the same sites, and {@code /api/v1/sites}. */
final class FleetResource {
    private final Fleet fleet;
    private final Reply reply;
    private final KeptAnswers<SiteScope, Payload> kept;

    FleetResource(Fleet fleet, Reply reply, KeptAnswers<SiteScope, Payload> kept) {
        this.fleet = fleet;
        this.reply = reply;
        this.kept = kept;
    }

    void fleet(Context ctx) {
        Views views = fleet.views(ctx);
        reply.json(
                ctx,
                kept.of(
                        fleet.sites(ctx),
                        () -> reply.payload(FleetJson.of(views.fleet())).packedNow()));
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
