package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Charge;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.Found;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.alerts.work.Work.Outcome;
import dev.rimecast.alerts.work.WorkReport;
import dev.rimecast.alerts.work.WorkRules;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.ListPage;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.WorkJson;
import dev.rimecast.telemetry.finding.Cause.Origin;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.time.InstantSource;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Stream;
import tools.jackson.databind.json.JsonMapper;

/** What was found and done at a machine: reporting it, and reading it. */
final class WorkResource {
    private static final int DEFAULT_LIMIT = 50;
    private static final int MOST = 500;

    private final Fleet fleet;
    private final Reply reply;
    private final InstantSource clock;
    private final JsonMapper json;

    WorkResource(Fleet fleet, Reply reply, InstantSource clock, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.clock = clock;
        this.json = json;
    }

    void ofMachine(Context ctx) {
        String machine = known(ctx);
        ListPage<UUID> page = ListPage.of(ctx, DEFAULT_LIMIT, MOST, Identifier::parse);
        List<StoredWork> read = fleet.work(ctx).ofMachine(SiteScope.EVERY, machine, page.after(), page.toRead());
        reply.json(
                ctx,
                page.shown(ctx, read, work -> work.report().id().toString()).stream()
                        .map(WorkJson::of)
                        .toList());
    }

    void one(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "work report");
        reply.json(
                ctx,
                fleet.work(ctx)
                        .one(SiteScope.EVERY, id)
                        .map(WorkJson::of)
                        .orElseThrow(() -> Identifier.unknown("work report", id)));
    }

    void report(Context ctx) {
        String machine = known(ctx);
        WorkReport report = read(Body.of(ctx, json));
        Outcome outcome = fleet.work(ctx)
                .report(SiteScope.EVERY, machine, report, Gate.visitor(ctx).person());
        if (outcome instanceof Outcome.Added added) {
            ctx.status(201);
            reply.json(ctx, new WorkJson.ReportedJson(true, WorkJson.of(added.work())));
        } else if (outcome instanceof Outcome.Known before) {
            reply.json(ctx, new WorkJson.ReportedJson(false, WorkJson.of(before.work())));
        } else if (outcome instanceof Outcome.Refused refused) {
            throw wrong(refused.member(), refused.reason());
        } else {
            throw Problem.notFound(((Outcome.NotFound) outcome).what()).asException();
        }
    }

    private WorkReport read(Body body) {
        String code = body.required("found");
        Found found = Found.of(code, body.text("foundText", Events.LONGEST_TEXT))
                .orElseThrow(() -> wrong("found", "must be one of " + WorkRules.foundCodes()));
        Optional<Origin> corrected = choice(
                body,
                "origin",
                text -> Stream.of(Origin.values())
                        .filter(origin -> origin.code().equals(text))
                        .findFirst(),
                Stream.of(Origin.values()).map(Origin::code).toList());
        Optional<Charge> charge = choice(
                body,
                "charge",
                Charge::ofCode,
                Stream.of(Charge.values()).map(Charge::code).toList());
        return new WorkReport(
                body.uuid("id")
                        .orElseThrow(() -> wrong("id", "is missing: make one, so that a repeat is told from it")),
                body.given("time") ? body.instant("time") : clock.instant(),
                found,
                corrected.or(() -> found.told().map(cause -> cause.origin())),
                body.objects("done", WorkRules.MOST_DONE).stream()
                        .map(WorkResource::done)
                        .toList(),
                charge,
                body.text("job", Events.LONGEST_TEXT),
                body.text("note", WorkRules.LONGEST_NOTE),
                body.text("by", Events.LONGEST_TEXT),
                body.text("certificate", Events.LONGEST_TEXT),
                body.uuid("visit"),
                body.uuid("caseId"));
    }

    private static Done done(Body body) {
        String what = body.required("what");
        Deed deed = Deed.ofCode(what)
                .orElseThrow(() -> wrong(
                        body.name("what"),
                        "must be one of "
                                + Stream.of(Deed.values()).map(Deed::code).toList()));
        return new Done(
                deed,
                body.text("detail", Events.LONGEST_TEXT),
                body.given("grams") ? Optional.of(body.wholeNumber("grams")) : Optional.empty());
    }

    private static <T> Optional<T> choice(
            Body body, String name, Function<String, Optional<T>> ofCode, List<String> codes) {
        String text = body.text(name).toLowerCase(Locale.ROOT);
        if (text.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(ofCode.apply(text).orElseThrow(() -> wrong(body.name(name), "must be one of " + codes)));
    }

    /** A problem that names the member, for people and for programs. */
    static RuntimeException wrong(String member, String reason) {
        return new Problem(
                        400, "bad-body", "The body is not understood", member + ' ' + reason, Map.of("member", member))
                .asException();
    }

    private String known(Context ctx) {
        String id = ctx.pathParam("id");
        if (!Ids.isLegal(id)) {
            throw Problem.notFound("That is not the identifier of a machine.").asException();
        }
        if (fleet.views(ctx).machine(id).isEmpty()) {
            throw Problem.notFound("No machine " + id + " in the register.").asException();
        }
        return id;
    }
}
