package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.WorkFigure;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.FiguresJson;
import dev.rimecast.dashboard.json.NotHeldJson;
import io.javalin.http.Context;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Optional;

/** {@code GET /api/v1/figures} and {@code /api/v1/work-not-held}: how well work does, for whoever answers for it. */
final class FiguresResource {
    private static final Duration DEFAULT_SPAN = Duration.ofDays(365);

    private static final Duration NEWS = Duration.ofDays(30);
    private static final int MOST_NOT_HELD = 500;

    private final Fleet fleet;
    private final Reply reply;
    private final InstantSource clock;

    FiguresResource(Fleet fleet, Reply reply, InstantSource clock) {
        this.fleet = fleet;
        this.reply = reply;
        this.clock = clock;
    }

    /** Work that turned out not to have held; of the last 30 days where nothing else is asked. */
    void notHeld(Context ctx) {
        Instant to = Query.instant(ctx, "to").orElseGet(clock::instant);
        Instant from = Query.instant(ctx, "from").orElseGet(() -> to.minus(NEWS));
        reply.json(
                ctx,
                fleet.views(ctx).notHeld(SiteScope.EVERY, from, to, MOST_NOT_HELD).stream()
                        .map(NotHeldJson::of)
                        .toList());
    }

    void figures(Context ctx) {
        Instant now = clock.instant();
        Instant to = Query.instant(ctx, "to").orElse(now);
        Instant from = Query.instant(ctx, "from").orElseGet(() -> to.minus(DEFAULT_SPAN));
        if (!from.isBefore(to)) {
            throw Problem.badParameter("from", "from must be before to").asException();
        }
        reply.json(
                ctx,
                FiguresJson.of(
                        from,
                        to,
                        WorkFigure.of(
                                fleet.work(ctx).between(SiteScope.EVERY, Optional.empty(), from, Span.EVER.to()),
                                fleet.work(ctx).past(SiteScope.EVERY, from, to.isBefore(now) ? to : now),
                                to,
                                now)));
    }
}
