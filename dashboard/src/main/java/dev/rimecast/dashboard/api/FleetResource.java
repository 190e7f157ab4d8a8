package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.FleetJson;
import dev.rimecast.dashboard.json.SiteJson;
import io.javalin.http.Context;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import java.util.function.LongSupplier;

/** {@code GET /api/v1/fleet}, kept for all who see the same sites, and {@code /api/v1/sites}. */
final class FleetResource {
    private final Fleet fleet;
    private final Reply reply;
    private final KeptAnswers kept;

    /** @param alertChanges grows with every change of an alert */
    FleetResource(Fleet fleet, Reply reply, LongSupplier alertChanges) {
        this.fleet = fleet;
        this.reply = reply;
        this.kept = new KeptAnswers(alertChanges, System::nanoTime, behind());
    }

    /** One thread, and none while nobody asks. */
    private static Executor behind() {
        return new ThreadPoolExecutor(0, 1, 10, TimeUnit.SECONDS, new LinkedBlockingQueue<>(), task -> {
            Thread thread = new Thread(task, "dashboard-fleet");
            thread.setDaemon(true);
            return thread;
        });
    }

    void fleet(Context ctx) {
        Views views = fleet.views(ctx);
        reply.json(ctx, kept.of(fleet.sites(ctx), () -> reply.payload(FleetJson.of(views.fleet()))));
    }

    /** Forgets the kept answers, so that who changed something sees it. */
    void forget() {
        kept.forget();
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
