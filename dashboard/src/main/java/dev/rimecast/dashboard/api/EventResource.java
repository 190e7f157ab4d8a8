package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.advice.QuestionTexts;
import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Events.Outcome;
import dev.rimecast.alerts.view.Events.Report;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.EventJson;
import dev.rimecast.dashboard.json.QuestionTextJson;
import dev.rimecast.dashboard.json.WeighedJson;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import tools.jackson.databind.json.JsonMapper;

/** What happened at a machine or a site: the list, and reporting one event. */
final class EventResource {
    private static final int DEFAULT_LIMIT = 50;
    private static final int MOST = 500;

    private final Fleet fleet;
    private final Reply reply;
    private final JsonMapper json;

    EventResource(Fleet fleet, Reply reply, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.json = json;
    }

    void ofMachine(Context ctx) {
        String machine = id(ctx, "machine");
        if (fleet.views(ctx).machine(machine).isEmpty()) {
            throw unknown("machine", machine);
        }
        int limit = limit(ctx);
        answer(ctx, fleet.events(ctx).ofMachine(SiteScope.EVERY, machine, before(ctx), limit + 1), limit);
    }

    /** Harvests that somebody weighed, against what the conditions allow. */
    void weighed(Context ctx) {
        String machine = id(ctx, "machine");
        if (fleet.views(ctx).machine(machine).isEmpty()) {
            throw unknown("machine", machine);
        }
        reply.json(
                ctx,
                fleet.events(ctx).weighed(SiteScope.EVERY, machine, DEFAULT_LIMIT).stream()
                        .map(WeighedJson::of)
                        .toList());
    }

    void ofSite(Context ctx) {
        String site = id(ctx, "site");
        if (fleet.views(ctx).sites().stream().noneMatch(each -> each.id().equals(site))) {
            throw unknown("site", site);
        }
        int limit = limit(ctx);
        answer(ctx, fleet.events(ctx).ofSite(SiteScope.EVERY, site, before(ctx), limit + 1), limit);
    }

    /** What a report of an answer can say. They name no site. */
    void questions(Context ctx) {
        reply.json(
                ctx,
                QuestionTexts.STANDARD.all().values().stream()
                        .map(QuestionTextJson::of)
                        .toList());
    }

    private void answer(Context ctx, List<EventView> events, int limit) {
        reply.json(ctx, EventJson.page(events, limit));
    }

    void reportOfMachine(Context ctx) {
        String machine = id(ctx, "machine");
        report(ctx, Optional.empty(), Optional.of(machine));
    }

    /** The site as a whole, or a machine on it that the body names. */
    void reportOfSite(Context ctx) {
        report(ctx, Optional.of(id(ctx, "site")), Optional.empty());
    }

    private void report(Context ctx, Optional<String> site, Optional<String> machine) {
        Body body = Body.of(ctx, json);
        Optional<String> named = machine.or(() -> text(body, "machine"));
        named.filter(id -> !Ids.isLegal(id)).ifPresent(id -> {
            throw Problem.badBody("machine is not an identifier").asException();
        });
        Report report = new Report(
                site,
                named,
                text(body, "time").map(given -> body.instant("time")),
                kind(body.required("event")),
                body.text("detail", Events.LONGEST_TEXT),
                body.text("by", Events.LONGEST_TEXT),
                body.text("job", Events.LONGEST_TEXT));
        Outcome outcome = fleet.events(ctx)
                .report(SiteScope.EVERY, List.of(report), Gate.visitor(ctx).person())
                .get(0);
        if (outcome instanceof Outcome.Added added) {
            ctx.status(201);
            reply.json(ctx, new EventJson.ReportedJson(true, EventJson.of(added.event())));
        } else if (outcome instanceof Outcome.Known known) {
            reply.json(ctx, new EventJson.ReportedJson(false, EventJson.of(known.event())));
        } else if (outcome instanceof Outcome.Refused refused) {
            throw Problem.badBody(refused.member() + ' ' + refused.reason()).asException();
        } else {
            throw Problem.notFound(((Outcome.NotFound) outcome).what()).asException();
        }
    }

    private static EventKind kind(String code) {
        return EventKind.ofCode(code)
                .orElseThrow(() -> Problem.badBody("event must be one of "
                                + Stream.of(EventKind.values())
                                        .map(EventKind::code)
                                        .toList())
                        .asException());
    }

    private static Optional<String> text(Body body, String name) {
        return Optional.of(body.text(name)).filter(text -> !text.isEmpty());
    }

    private static int limit(Context ctx) {
        return Query.number(ctx, "limit", DEFAULT_LIMIT, 1, MOST);
    }

    private static Optional<Long> before(Context ctx) {
        return Query.text(ctx, "before").map(text -> {
            try {
                return Long.parseLong(text);
            } catch (NumberFormatException e) {
                throw Problem.badParameter("before", "before must be the next of an earlier answer")
                        .asException();
            }
        });
    }

    private static String id(Context ctx, String what) {
        String id = ctx.pathParam("id");
        if (!Ids.isLegal(id)) {
            throw Problem.notFound("That is not the identifier of a " + what + '.')
                    .asException();
        }
        return id;
    }

    private static RuntimeException unknown(String what, String id) {
        return Problem.notFound("No " + what + ' ' + id + " in the register.").asException();
    }
}
