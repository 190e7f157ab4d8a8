package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Action.TakeOutOfService;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.Actions.HoldOutcome;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.HoldJson;
import io.javalin.http.Context;
import java.util.Map;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/holds}, and taking a whole machine out of service. */
final class HoldResource {
    private final Views views;
    private final Actions actions;
    private final Reply reply;
    private final JsonMapper json;
    private final Runnable changed;

    /** @param changed called after somebody changed something */
    HoldResource(Views views, Actions actions, Reply reply, JsonMapper json, Runnable changed) {
        this.views = views;
        this.actions = actions;
        this.reply = reply;
        this.json = json;
        this.changed = changed;
    }

    void list(Context ctx) {
        reply.json(ctx, views.holds().stream().map(HoldJson::of).toList());
    }

    void end(Context ctx) {
        UUID id = id(ctx);
        Body body = Body.of(ctx, json);
        answer(ctx, actions.endHold(id, Who.of(body), body.required("reason")), "No hold " + id + '.');
    }

    void takeOutOfService(Context ctx) {
        String machine = ctx.pathParam("id");
        Body body = Body.of(ctx, json);
        TakeOutOfService action = new TakeOutOfService(body.required("reason"), body.required("permittedBy"));
        answer(ctx, actions.takeOutOfService(machine, Who.of(body), action), "No machine " + machine + '.');
    }

    private void answer(Context ctx, HoldOutcome outcome, String missing) {
        if (outcome instanceof HoldOutcome.Done done) {
            changed.run();
            reply.json(ctx, HoldJson.of(done.hold()));
        } else if (outcome instanceof HoldOutcome.NotAllowed notAllowed) {
            throw new Problem(409, "not-allowed", "That is not possible now", notAllowed.reason(), Map.of())
                    .asException();
        } else {
            throw Problem.notFound(missing).asException();
        }
    }

    private static UUID id(Context ctx) {
        try {
            return UUID.fromString(ctx.pathParam("id"));
        } catch (IllegalArgumentException e) {
            throw Problem.notFound("That is not the identifier of a hold.").asException();
        }
    }
}
