package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Permission;
import dev.rimecast.alerts.view.Action.TakeOutOfService;
import dev.rimecast.alerts.view.Actions.HoldOutcome;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.HoldJson;
import io.javalin.http.Context;
import java.util.Map;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/holds}, and taking a whole machine out of service. */
final class HoldResource {
    private final Fleet fleet;
    private final Reply reply;
    private final JsonMapper json;
    private final Runnable changed;

    /** @param changed called after somebody changed something */
    HoldResource(Fleet fleet, Reply reply, JsonMapper json, Runnable changed) {
        this.fleet = fleet;
        this.reply = reply;
        this.json = json;
        this.changed = changed;
    }

    void list(Context ctx) {
        reply.json(ctx, fleet.views(ctx).holds().stream().map(HoldJson::of).toList());
    }

    void end(Context ctx) {
        UUID id = id(ctx);
        Body body = Body.of(ctx, json);
        fleet.views(ctx)
                .hold(id)
                .filter(hold -> hold.kind() == Hold.Kind.OUT_OF_SERVICE)
                .ifPresent(hold -> Gate.require(ctx, Permission.OUT_OF_SERVICE));
        answer(
                ctx,
                fleet.actions(ctx).endHold(id, Gate.visitor(ctx).person(), body.required("reason")),
                "No hold " + id + '.');
    }

    void takeOutOfService(Context ctx) {
        String machine = ctx.pathParam("id");
        Body body = Body.of(ctx, json);
        TakeOutOfService action = new TakeOutOfService(body.required("reason"), body.required("permittedBy"));
        answer(
                ctx,
                fleet.actions(ctx).takeOutOfService(machine, Gate.visitor(ctx).person(), action),
                "No machine " + machine + '.');
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
