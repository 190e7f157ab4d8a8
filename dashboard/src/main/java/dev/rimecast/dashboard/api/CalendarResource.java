package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.visits.calendar.CalendarLink;
import dev.rimecast.alerts.visits.calendar.CalendarLinks;
import dev.rimecast.alerts.visits.calendar.CalendarLinks.Made;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.RateLimit;
import dev.rimecast.dashboard.http.Reply;
import io.javalin.http.Context;
import java.time.Instant;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/calendars} and {@code /calendar}: links for calendar programs, and what they open. */
final class CalendarResource {
    private static final String ENDING = ".ics";
    private static final int A_MINUTE = 60;
    private static final int LONGEST_NAME = 60;

    private final CalendarLinks links;
    private final Reply reply;
    private final JsonMapper json;
    private final RateLimit limit = new RateLimit(A_MINUTE, System::nanoTime);

    CalendarResource(CalendarLinks links, Reply reply, JsonMapper json) {
        this.links = links;
        this.reply = reply;
        this.json = json;
    }

    /** @param engineer left out for the visits of all */
    record LinkJson(UUID id, Optional<String> engineer, Instant madeAt) {
        static LinkJson of(CalendarLink link) {
            return new LinkJson(link.id(), link.engineer(), link.madeAt());
        }
    }

    /** @param path of the calendar, with its secret; told only now */
    record MadeJson(String path, LinkJson link) {}

    void list(Context ctx) {
        reply.json(ctx, links.list(Gate.visitor(ctx)).stream().map(LinkJson::of).toList());
    }

    void make(Context ctx) {
        Optional<String> engineer =
                Optional.of(Body.of(ctx, json).text("engineer", LONGEST_NAME)).filter(text -> !text.isEmpty());
        Optional<Made> made = links.make(Gate.visitor(ctx), engineer);
        if (made.isEmpty()) {
            throw new Problem(409, "not-allowed", "That is not possible now", "Take a link back first.", Map.of())
                    .asException();
        }
        reply.json(
                ctx,
                new MadeJson(
                        "/calendar/" + made.get().secret() + ENDING,
                        LinkJson.of(made.get().link())));
        ctx.header("Cache-Control", "no-store");
    }

    void revoke(Context ctx) {
        UUID id = Identifier.of(ctx.pathParam("id"), "calendar link");
        if (!links.revoke(Gate.visitor(ctx), id)) {
            throw Identifier.unknown("calendar link", id);
        }
        ctx.status(204);
    }

    void read(Context ctx) {
        limit.check(ctx, ctx.ip());
        String name = ctx.pathParam("name");
        Optional<String> calendar = name.endsWith(ENDING)
                ? links.read(name.substring(0, name.length() - ENDING.length()))
                : Optional.empty();
        reply.calendar(
                ctx,
                calendar.orElseThrow(() -> new Problem(
                                404,
                                "no-such-link",
                                "No calendar is like that",
                                "The link was taken back, or is not whole.",
                                Map.of())
                        .asException()));
    }
}
