package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.Outcome;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.VisitJson;
import dev.rimecast.dashboard.json.VisitJson.MeansJson;
import dev.rimecast.dashboard.json.VisitJson.PlanJson;
import dev.rimecast.telemetry.file.csv.IsoTime;
import io.javalin.http.Context;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/visits}: who goes where and when, and what people do about it. */
final class VisitResource {
    private static final Set<String> STATES =
            Stream.of(State.values()).map(State::code).collect(Collectors.toUnmodifiableSet());
    static final int LONGEST_NAME = 60;

    private final Fleet fleet;
    private final Reply reply;
    private final JsonMapper json;

    VisitResource(Fleet fleet, Reply reply, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.json = json;
    }

    void list(Context ctx) {
        Visits visits = fleet.visits(ctx);
        Set<State> states = Query.words(ctx, "state", STATES).stream()
                .map(code -> State.ofCode(code).orElseThrow())
                .collect(Collectors.toUnmodifiableSet());
        Filter filter = new Filter(
                Query.text(ctx, "from").map(text -> day("from", text)),
                Query.text(ctx, "to").map(text -> day("to", text)),
                Query.id(ctx, "site"),
                Query.text(ctx, "engineer"),
                states.isEmpty() ? Filter.OPEN.states() : states);
        reply.json(
                ctx,
                new PlanJson(
                        visits.list(SiteScope.EVERY, filter).stream()
                                .map(VisitJson::of)
                                .toList(),
                        visits.waiting(SiteScope.EVERY).stream()
                                .filter(each -> filter.site()
                                        .filter(site -> !site.equals(each.need().site()))
                                        .isEmpty())
                                .map(VisitJson::of)
                                .toList(),
                        MeansJson.of(visits.means())));
    }

    void one(Context ctx) {
        UUID id = id(ctx);
        reply.json(ctx, fleet.visits(ctx).one(id).map(VisitJson::of).orElseThrow(() -> unknown(id)));
    }

    /** What becomes of it if it is moved; changes nothing. */
    void effect(Context ctx) {
        UUID id = id(ctx);
        Target target = new Target(
                day("day", Query.text(ctx, "day").orElse("")),
                Query.text(ctx, "engineer"),
                Query.text(ctx, "from").map(VisitResource::minute));
        reply.json(ctx, fleet.visits(ctx).effect(id, target).orElseThrow(() -> unknown(id)));
    }

    void accept(Context ctx) {
        Body body = Body.of(ctx, json);
        answer(ctx, fleet.visits(ctx).accept(id(ctx), body.wholeNumber("sequence"), person(ctx), body.text("note")));
    }

    void move(Context ctx) {
        Body body = Body.of(ctx, json);
        Target target = new Target(
                day("day", body.required("day")),
                Optional.of(body.text("engineer", LONGEST_NAME)).filter(name -> !name.isEmpty()),
                Optional.of(body.text("from")).filter(text -> !text.isEmpty()).map(VisitResource::minute));
        answer(
                ctx,
                fleet.visits(ctx).move(id(ctx), body.wholeNumber("sequence"), person(ctx), target, body.text("note")));
    }

    void release(Context ctx) {
        Body body = Body.of(ctx, json);
        answer(ctx, fleet.visits(ctx).release(id(ctx), body.wholeNumber("sequence"), person(ctx), body.text("note")));
    }

    void cancel(Context ctx) {
        Body body = Body.of(ctx, json);
        answer(
                ctx,
                fleet.visits(ctx).cancel(id(ctx), body.wholeNumber("sequence"), person(ctx), body.required("reason")));
    }

    void done(Context ctx) {
        Body body = Body.of(ctx, json);
        answer(ctx, fleet.visits(ctx).done(id(ctx), body.wholeNumber("sequence"), person(ctx), body.text("note")));
    }

    void plan(Context ctx) {
        // Nothing is in it; but reading it holds it to the size that every body may have.
        var unused = ctx.bodyAsBytes();
        fleet.visits(ctx).plan();
        list(ctx);
    }

    private static dev.rimecast.alerts.view.Person person(Context ctx) {
        return Gate.visitor(ctx).person();
    }

    private void answer(Context ctx, Outcome outcome) {
        if (outcome instanceof Outcome.Done done) {
            reply.json(ctx, VisitJson.of(done.visit()));
        } else if (outcome instanceof Outcome.Changed changed) {
            throw new Problem(
                            409,
                            "visit-changed",
                            "The visit is another by now",
                            "Somebody else, or planning, has changed it. How it stands is attached.",
                            Map.of("current", VisitJson.of(changed.visit())))
                    .asException();
        } else if (outcome instanceof Outcome.NotAllowed refused) {
            throw new Problem(409, "not-allowed", "That is not possible now", refused.reason(), Map.of()).asException();
        } else {
            throw unknown(id(ctx));
        }
    }

    static LocalDate day(String name, String text) {
        return IsoTime.parse(text + "T00:00:00Z")
                .map(at -> at.atOffset(ZoneOffset.UTC).toLocalDate())
                .orElseThrow(() -> Problem.badParameter(name, name + " must be a day such as 2026-05-04")
                        .asException());
    }

    private static int minute(String text) {
        return minute("from", text);
    }

    static int minute(String name, String text) {
        try {
            return LocalTime.parse(text).toSecondOfDay() / 60;
        } catch (DateTimeException e) {
            throw Problem.badParameter(name, name + " must be a time such as 09:30")
                    .asException();
        }
    }

    private static UUID id(Context ctx) {
        return Identifier.of(ctx.pathParam("id"), "visit");
    }

    private static RuntimeException unknown(UUID id) {
        return Identifier.unknown("visit", id);
    }
}
