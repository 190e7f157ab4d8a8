package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Inquiries.LinkOutcome;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.SiteLinkJson;
import dev.rimecast.dashboard.json.SiteLinkJson.MadeJson;
import io.javalin.http.Context;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/site-links}: asking a site by a link, for those who have an account. */
final class SiteLinkResource {
    private final Fleet fleet;
    private final Reply reply;
    private final JsonMapper json;

    SiteLinkResource(Fleet fleet, Reply reply, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.json = json;
    }

    void list(Context ctx) {
        reply.json(
                ctx,
                fleet.inquiries(ctx).links(SiteScope.EVERY).stream()
                        .map(SiteLinkJson::of)
                        .toList());
    }

    void make(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "case");
        Body body = Body.of(ctx, json);
        Optional<String> machine = Optional.of(body.text("machine")).filter(text -> !text.isEmpty());
        String send = body.text("send");
        if (!send.isEmpty() && !send.equals("mail")) {
            throw Problem.badBody("send must be mail, or left out for a link to pass on")
                    .asException();
        }
        Person who = Gate.visitor(ctx).person();
        LinkOutcome outcome = send.isEmpty()
                ? fleet.inquiries(ctx).ask(id, machine, who)
                : fleet.inquiries(ctx).mail(id, machine, who);
        if (outcome instanceof LinkOutcome.Made made) {
            reply.json(ctx, new MadeJson(Optional.of(made.secret()), SiteLinkJson.of(made.link())));
            ctx.header("Cache-Control", "no-store");
        } else if (outcome instanceof LinkOutcome.Mailed mailed) {
            reply.json(ctx, new MadeJson(Optional.empty(), SiteLinkJson.of(mailed.link())));
        } else if (outcome instanceof LinkOutcome.NotAllowed refused) {
            throw new Problem(409, "not-allowed", "That is not possible now", refused.reason(), Map.of()).asException();
        } else {
            throw Identifier.unknown("case", id);
        }
    }

    void revoke(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "link");
        if (!fleet.inquiries(ctx).revoke(id, Gate.visitor(ctx).person())) {
            throw Identifier.unknown("open link", id);
        }
        ctx.status(204);
    }
}
