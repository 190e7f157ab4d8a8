package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteChecks;
import dev.rimecast.alerts.view.SiteChecks.Outcome;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.RateLimit;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.SiteLinkJson;
import io.javalin.http.Context;
import java.util.Map;
import tools.jackson.databind.json.JsonMapper;

/**
 * {@code /api/v1/site-check}: what a link of a site opens. No session and no account: the link is in the body, so that it
 * stands in no log, and is all that anybody needs to have.
 */
final class SiteCheckResource {
    private static final int A_MINUTE = 60;
    private static final int LONGEST = 100;

    private final SiteChecks checks;
    private final Reply reply;
    private final JsonMapper json;
    private final RateLimit limit = new RateLimit(A_MINUTE, System::nanoTime);

    SiteCheckResource(SiteChecks checks, Reply reply, JsonMapper json) {
        this.checks = checks;
        this.reply = reply;
        this.json = json;
    }

    void look(Context ctx) {
        Body body = body(ctx);
        answer(ctx, checks.look(body.text("link", LONGEST)));
    }

    void answer(Context ctx) {
        Body body = body(ctx);
        answer(
                ctx,
                checks.answer(body.text("link", LONGEST), body.text("check", LONGEST), body.text("answer", LONGEST)));
    }

    void weigh(Context ctx) {
        Body body = body(ctx);
        answer(ctx, checks.weigh(body.text("link", LONGEST), body.text("kilograms", LONGEST)));
    }

    private Body body(Context ctx) {
        ctx.header("Cache-Control", "no-store");
        limit.check(ctx, ctx.ip());
        return Body.of(ctx, json);
    }

    private void answer(Context ctx, Outcome outcome) {
        if (outcome instanceof Outcome.Shown shown) {
            reply.json(ctx, SiteLinkJson.of(shown.view()));
            ctx.header("Cache-Control", "no-store");
        } else if (outcome instanceof Outcome.Changed changed) {
            throw new Problem(
                            409,
                            "check-changed",
                            "Something else is asked by now",
                            "This was answered already. What is asked now is attached.",
                            Map.of("current", SiteLinkJson.of(changed.view())))
                    .asException();
        } else if (outcome instanceof Outcome.NoWeight no) {
            throw Problem.badBody("kilograms " + no.reason()).asException();
        } else if (outcome instanceof Outcome.Ended) {
            throw new Problem(
                            410, "link-ended", "This link has ended", "Ask whoever sent it for another one.", Map.of())
                    .asException();
        } else {
            throw new Problem(404, "no-such-link", "No link is like that", "Open it as it was sent to you.", Map.of())
                    .asException();
        }
    }
}
