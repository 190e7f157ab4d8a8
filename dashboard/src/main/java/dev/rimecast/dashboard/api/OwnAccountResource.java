package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.SignIn;
import dev.rimecast.alerts.people.Tokens;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.PeopleJson.SessionJson;
import dev.rimecast.dashboard.json.PeopleJson.TokenJson;
import io.javalin.http.Context;
import java.util.Optional;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/account} and {@code /api/v1/tokens}: what people do with what is their own. */
final class OwnAccountResource {
    private final People people;
    private final Reply reply;
    private final JsonMapper json;

    OwnAccountResource(People people, Reply reply, JsonMapper json) {
        this.people = people;
        this.reply = reply;
        this.json = json;
    }

    /** Ends every session of the account, this one, too: the page signs in anew. */
    void changePassword(Context ctx) {
        Visitor visitor = Gate.visitor(ctx);
        Body body = Body.of(ctx, json);
        Answer<SignIn.Outcome> answer =
                people.changePassword(visitor.account(), body.secret("current"), body.secret("next"), ctx.ip());
        SignIn.Outcome outcome = Answers.done(answer, "");
        if (!(outcome instanceof SignIn.Outcome.Right)) {
            throw SessionResource.refused(ctx, outcome);
        }
        Gate.leave(ctx);
        ctx.status(204);
    }

    void sessions(Context ctx) {
        Visitor visitor = Gate.visitor(ctx);
        reply.json(
                ctx,
                people.entrance().sessions(visitor.account()).stream()
                        .map(session -> SessionJson.of(session, visitor.session()))
                        .toList());
    }

    void endSession(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "session");
        if (!people.entrance().end(Gate.visitor(ctx).account(), id)) {
            throw Identifier.unknown("session", id);
        }
        ctx.status(204);
    }

    void tokens(Context ctx) {
        reply.json(
                ctx,
                people.tokens().list(Gate.visitor(ctx)).stream()
                        .map(token -> TokenJson.of(token, Optional.empty()))
                        .toList());
    }

    void makeToken(Context ctx) {
        Body body = Body.of(ctx, json);
        Tokens.Made made = Answers.done(
                people.tokens()
                        .make(
                                Gate.visitor(ctx),
                                body.required("name"),
                                body.role(),
                                body.sites(),
                                body.instant("endsAt")),
                "");
        ctx.status(201);
        reply.json(ctx, TokenJson.of(made.token(), Optional.of(made.secret())));
    }

    void revokeToken(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "token");
        if (!people.tokens().revoke(Gate.visitor(ctx), id)) {
            throw Identifier.unknown("token", id);
        }
        ctx.status(204);
    }
}
