package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Actions.CaseOutcome;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.ListPage;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.CaseJson;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/cases}: what is one problem, and closing what only a call has opened. */
final class CaseResource {
    private static final int DEFAULT_LIMIT = 200;
    private static final int MOST = 2_000;

    private final Fleet fleet;
    private final Reply reply;
    private final JsonMapper json;

    CaseResource(Fleet fleet, Reply reply, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.json = json;
    }

    void list(Context ctx) {
        boolean openOnly = Query.flag(ctx, "open", true);
        SiteScope sites =
                Query.id(ctx, "site").map(site -> SiteScope.of(Set.of(site))).orElse(SiteScope.EVERY);
        ListPage<ListPlace> page = ListPage.of(ctx, DEFAULT_LIMIT, MOST, ListPlace::parse);
        List<CaseView> read = fleet.views(ctx).cases(sites, openOnly, page.after(), page.toRead());
        reply.json(
                ctx,
                page.shown(ctx, read, view -> ListPlace.behind(view).text()).stream()
                        .map(CaseJson::of)
                        .toList());
    }

    void one(Context ctx) {
        UUID id = id(ctx);
        reply.json(ctx, fleet.views(ctx).caseOf(id).map(CaseJson::of).orElseThrow(() -> unknown(id)));
    }

    void close(Context ctx) {
        UUID id = id(ctx);
        Body body = Body.of(ctx, json);
        CaseOutcome outcome = fleet.actions(ctx).closeCase(id, Gate.visitor(ctx).person(), body.required("reason"));
        if (outcome instanceof CaseOutcome.Done done) {
            reply.json(ctx, CaseJson.of(done.view()));
        } else if (outcome instanceof CaseOutcome.NotAllowed notAllowed) {
            throw new Problem(409, "not-allowed", "That is not possible now", notAllowed.reason(), Map.of())
                    .asException();
        } else {
            throw unknown(id);
        }
    }

    private static UUID id(Context ctx) {
        try {
            return UUID.fromString(ctx.pathParam("id"));
        } catch (IllegalArgumentException e) {
            throw Problem.notFound("That is not the identifier of a case.").asException();
        }
    }

    private static RuntimeException unknown(UUID id) {
        return Problem.notFound("No case " + id + '.').asException();
    }
}
