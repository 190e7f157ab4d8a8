package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.people.Answer;
import dev.rimecast.alerts.people.People;
import dev.rimecast.alerts.people.People.Proved;
import dev.rimecast.alerts.people.SecondFactors.Proposal;
import dev.rimecast.alerts.people.Visitor;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.PeopleJson.FactorJson;
import dev.rimecast.dashboard.json.PeopleJson.ProposedJson;
import dev.rimecast.dashboard.json.PeopleJson.RecoveryJson;
import io.javalin.http.Context;
import java.util.List;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/account/second-factor}: one's own. */
final class SecondFactorResource {
    private final People people;
    private final Reply reply;
    private final JsonMapper json;

    SecondFactorResource(People people, Reply reply, JsonMapper json) {
        this.people = people;
        this.reply = reply;
        this.json = json;
    }

    void look(Context ctx) {
        reply.json(
                ctx, FactorJson.of(people.factors().standing(Gate.visitor(ctx).account())));
    }

    void propose(Context ctx) {
        Visitor visitor = Gate.visitor(ctx);
        Proposal made = proved(
                ctx, people.proposeFactor(visitor.account(), Body.of(ctx, json).secret("current"), ctx.ip()));
        ctx.status(201);
        reply.json(ctx, new ProposedJson(made.secret(), made.uri(), QrPicture.of(made.uri())));
        ctx.header("Cache-Control", "no-store");
    }

    void confirm(Context ctx) {
        Visitor visitor = Gate.visitor(ctx);
        String code = Body.of(ctx, json).text("code", SessionResource.LONGEST_CODE);
        codes(ctx, Answers.done(people.factors().confirm(visitor, code), ""));
    }

    void renewCodes(Context ctx) {
        Body body = Body.of(ctx, json);
        codes(
                ctx,
                proved(
                        ctx,
                        people.renewCodes(
                                Gate.visitor(ctx).account(),
                                body.secret("current"),
                                body.text("code", SessionResource.LONGEST_CODE),
                                ctx.ip())));
    }

    void remove(Context ctx) {
        Body body = Body.of(ctx, json);
        proved(
                ctx,
                people.removeFactor(
                        Gate.visitor(ctx),
                        body.secret("current"),
                        body.text("code", SessionResource.LONGEST_CODE),
                        ctx.ip()));
        ctx.status(204);
    }

    private void codes(Context ctx, List<String> codes) {
        reply.json(ctx, new RecoveryJson(codes));
        ctx.header("Cache-Control", "no-store");
    }

    private static <T> T proved(Context ctx, Answer<Proved<T>> answer) {
        Proved<T> proved = Answers.done(answer, "");
        if (proved instanceof Proved.Yes<T> yes) {
            return yes.value();
        }
        throw SessionResource.refused(ctx, ((Proved.No<T>) proved).why());
    }
}
