package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.Visits.Made;
import dev.rimecast.alerts.view.Visits.NewVisit;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.VisitJson;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** Visits that somebody makes by hand, and what one would mean. */
final class NewVisitResource {
    private static final int MOST_MACHINES = 100;
    private static final int LONGEST_ID = 64;

    private final Fleet fleet;
    private final Reply reply;
    private final JsonMapper json;

    NewVisitResource(Fleet fleet, Reply reply, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.json = json;
    }

    /** What becomes of the plan if it is made; changes nothing. */
    void effect(Context ctx) {
        String site = ctx.pathParam("id");
        Times times = new Times(
                Query.text(ctx, "day").orElse(""),
                Query.text(ctx, "from").orElse(""),
                Query.text(ctx, "to").orElse(""));
        NewVisit wanted = new NewVisit(
                UUID.randomUUID(),
                site,
                VisitResource.day("day", times.day()),
                times.fromMinute(),
                Query.text(ctx, "engineer")
                        .orElseThrow(() -> Problem.badParameter("engineer", "engineer is missing: say who is to go")
                                .asException()),
                // What it is for plays no part.
                new VisitRequest(List.of(), "?", "", times.minutes()));
        Optional<String> known = Optional.of(site).filter(Ids::isLegal);
        reply.json(ctx, known.flatMap(id -> fleet.visits(ctx).effect(wanted)).orElseThrow(() -> noSite(site)));
    }

    void make(Context ctx) {
        Body body = Body.of(ctx, json);
        NewVisit wanted = read(ctx, body);
        Made made = fleet.visits(ctx).make(wanted, Gate.visitor(ctx).person());
        if (made instanceof Made.Added added) {
            ctx.status(201);
            reply.json(ctx, VisitJson.of(added.visit()));
        } else if (made instanceof Made.Known before) {
            reply.json(ctx, VisitJson.of(before.visit()));
        } else if (made instanceof Made.Refused refused) {
            throw new Problem(409, "not-allowed", "That is not possible", refused.reason(), Map.of()).asException();
        } else {
            throw noSite(wanted.site());
        }
    }

    private NewVisit read(Context ctx, Body body) {
        UUID id = body.uuid("id")
                .orElseThrow(() -> WorkResource.wrong("id", "is missing: make one, so that a repeat is told from it"));
        String site = body.required("site");
        if (fleet.views(ctx).sites().stream().noneMatch(each -> each.id().equals(site))) {
            throw noSite(site);
        }
        Times times = new Times(body.required("day"), body.required("from"), body.required("to"));
        return new NewVisit(
                id,
                site,
                VisitResource.day("day", times.day()),
                times.fromMinute(),
                engineer(body),
                new VisitRequest(
                        machines(ctx, body, site),
                        body.required("reason"),
                        body.text("job", Events.LONGEST_TEXT),
                        times.minutes()));
    }

    private static String engineer(Body body) {
        String name = body.text("engineer", VisitResource.LONGEST_NAME);
        if (name.isEmpty()) {
            throw WorkResource.wrong("engineer", "is missing: say who is to go");
        }
        return name;
    }

    /** Of the site, each once; none where it is for the site itself. */
    private List<String> machines(Context ctx, Body body, String site) {
        List<String> machines = body.strings("machines", MOST_MACHINES, LONGEST_ID).stream()
                .distinct()
                .toList();
        for (String machine : machines) {
            boolean isThere = Ids.isLegal(machine)
                    && fleet.views(ctx)
                            .machine(machine)
                            .filter(view -> view.site().id().equals(site))
                            .isPresent();
            if (!isThere) {
                throw WorkResource.wrong("machines", "must be of the site: " + machine + " is not");
            }
        }
        return machines;
    }

    /** As they are written, at the site. */
    private record Times(String day, String from, String to) {
        int fromMinute() {
            return VisitResource.minute("from", from);
        }

        int minutes() {
            int minutes = VisitResource.minute("to", to) - fromMinute();
            if (minutes <= 0) {
                throw Problem.badParameter("to", "to must be later on the same day than from")
                        .asException();
            }
            return minutes;
        }
    }

    private static RuntimeException noSite(String site) {
        return Problem.notFound("No site " + site + " in the register.").asException();
    }
}
