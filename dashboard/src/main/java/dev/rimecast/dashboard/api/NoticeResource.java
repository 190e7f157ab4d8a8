package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.ListPage;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.NoticeJson;
import dev.rimecast.dashboard.json.NoticeJson.ReceiverJson;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/notices} and {@code /api/v1/receivers}: what was sent to whom, another try, a test. */
final class NoticeResource {
    private static final int DEFAULT_LIMIT = 200;
    private static final int MOST = 2_000;

    private final Fleet fleet;
    private final Reply reply;
    private final JsonMapper json;

    NoticeResource(Fleet fleet, Reply reply, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.json = json;
    }

    void list(Context ctx) {
        ListPage<UUID> page = ListPage.of(ctx, DEFAULT_LIMIT, MOST, Identifier::parse);
        List<NoticeView> read = fleet.notices(ctx).list(SiteScope.EVERY, page.after(), page.toRead());
        reply.json(
                ctx,
                page.shown(ctx, read, notice -> notice.id().toString()).stream()
                        .map(NoticeJson::of)
                        .toList());
    }

    void one(Context ctx) {
        UUID id = id(ctx);
        reply.json(ctx, fleet.notices(ctx).notice(id).map(NoticeJson::of).orElseThrow(() -> unknown(id.toString())));
    }

    void receivers(Context ctx) {
        reply.json(
                ctx,
                fleet.notices(ctx).receivers().stream().map(ReceiverJson::of).toList());
    }

    void retry(Context ctx) {
        UUID id = id(ctx);
        Body.of(ctx, json);
        answer(ctx, fleet.notices(ctx).retry(id, Gate.visitor(ctx).person()), id.toString());
    }

    void test(Context ctx) {
        String receiver = ctx.pathParam("name");
        Body.of(ctx, json);
        answer(ctx, fleet.notices(ctx).test(receiver, Gate.visitor(ctx).person()), receiver);
    }

    private void answer(Context ctx, Notices.Outcome outcome, String what) {
        if (outcome instanceof Notices.Outcome.Done done) {
            reply.json(ctx, NoticeJson.of(done.notice()));
        } else if (outcome instanceof Notices.Outcome.NotAllowed notAllowed) {
            throw new Problem(409, "not-allowed", "That is not possible now", notAllowed.reason(), Map.of())
                    .asException();
        } else {
            throw unknown(what);
        }
    }

    private static UUID id(Context ctx) {
        try {
            return UUID.fromString(ctx.pathParam("id"));
        } catch (IllegalArgumentException e) {
            throw Problem.notFound("That is not the identifier of a notice.").asException();
        }
    }

    private static RuntimeException unknown(String what) {
        return Problem.notFound("No notice or receiver " + what + '.').asException();
    }
}
