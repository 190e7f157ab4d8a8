package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.advice.CommissioningBook;
import dev.rimecast.alerts.advice.MachineKind;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Commissioned;
import dev.rimecast.alerts.work.Commissioned.Answer;
import dev.rimecast.alerts.work.Commissioned.Result;
import dev.rimecast.alerts.work.Commissioning.Outcome;
import dev.rimecast.alerts.work.WorkRules;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.CommissioningJson;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.time.InstantSource;
import java.util.stream.Stream;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/machines/{id}/commissioning}: the checklist for the machine, and its records. */
final class CommissioningResource {
    private static final int MOST_ANSWERS = 200;

    private final Fleet fleet;
    private final Reply reply;
    private final InstantSource clock;
    private final JsonMapper json;
    private final CommissioningBook book = CommissioningBook.standard();

    CommissioningResource(Fleet fleet, Reply reply, InstantSource clock, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.clock = clock;
        this.json = json;
    }

    void look(Context ctx) {
        MachineView view = known(ctx);
        String id = view.machine().id();
        reply.json(
                ctx,
                CommissioningJson.of(
                        book.of(MachineKind.of(view.machine())),
                        fleet.commissioning(ctx).acceptances(SiteScope.EVERY, id),
                        fleet.commissioning(ctx).commissionings(SiteScope.EVERY, id)));
    }

    void report(Context ctx) {
        MachineView view = known(ctx);
        Commissioned record = read(Body.of(ctx, json));
        Outcome outcome = fleet.commissioning(ctx)
                .commission(
                        SiteScope.EVERY,
                        view.machine().id(),
                        record,
                        Gate.visitor(ctx).person());
        if (outcome instanceof Outcome.Added added) {
            ctx.status(201);
            reply.json(ctx, new CommissioningJson.ReportedJson(true, CommissioningJson.record(added.record())));
        } else if (outcome instanceof Outcome.Known before) {
            reply.json(ctx, new CommissioningJson.ReportedJson(false, CommissioningJson.record(before.record())));
        } else if (outcome instanceof Outcome.Refused refused) {
            throw WorkResource.wrong(refused.member(), refused.reason());
        } else {
            throw Problem.notFound(((Outcome.NotFound) outcome).what()).asException();
        }
    }

    private Commissioned read(Body body) {
        return new Commissioned(
                body.uuid("id")
                        .orElseThrow(() ->
                                WorkResource.wrong("id", "is missing: make one, so that a repeat is told from it")),
                body.given("time") ? body.instant("time") : clock.instant(),
                body.objects("answers", MOST_ANSWERS).stream()
                        .map(CommissioningResource::answer)
                        .toList(),
                body.text("note", WorkRules.LONGEST_NOTE),
                body.text("by", Events.LONGEST_TEXT),
                body.text("job", Events.LONGEST_TEXT));
    }

    private static Answer answer(Body body) {
        Result result = Result.ofCode(body.required("result"))
                .orElseThrow(() -> WorkResource.wrong(
                        body.name("result"),
                        "must be one of "
                                + Stream.of(Result.values()).map(Result::code).toList()));
        return new Answer(body.required("item"), "", result, body.text("note", Events.LONGEST_TEXT));
    }

    private MachineView known(Context ctx) {
        String id = ctx.pathParam("id");
        if (!Ids.isLegal(id)) {
            throw Problem.notFound("That is not the identifier of a machine.").asException();
        }
        return fleet.views(ctx)
                .machine(id)
                .orElseThrow(() -> Problem.notFound("No machine " + id + " in the register.")
                        .asException());
    }
}
