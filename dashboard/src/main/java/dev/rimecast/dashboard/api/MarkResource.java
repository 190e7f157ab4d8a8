package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.Mark;
import dev.rimecast.alerts.view.Mark.Verdict;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.MarkJson;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.time.Instant;
import java.time.InstantSource;
import java.util.Arrays;
import java.util.Optional;
import java.util.UUID;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/marks}: what analysts say of machines' past. */
final class MarkResource {
    private static final int DEFAULT_LIMIT = 100;
    private static final int MOST = 1_000;

    private final Fleet fleet;
    private final Reply reply;
    private final InstantSource clock;
    private final JsonMapper json;

    MarkResource(Fleet fleet, Reply reply, InstantSource clock, JsonMapper json) {
        this.fleet = fleet;
        this.reply = reply;
        this.clock = clock;
        this.json = json;
    }

    void list(Context ctx) {
        Optional<String> machine = Query.text(ctx, "machine").filter(text -> !text.isEmpty());
        reply.json(
                ctx,
                fleet
                        .marks(ctx)
                        .list(SiteScope.EVERY, machine, Query.number(ctx, "limit", DEFAULT_LIMIT, 1, MOST))
                        .stream()
                        .map(MarkJson::of)
                        .toList());
    }

    /** Those that count, as {@code --marks} reads them. */
    void export(Context ctx) {
        reply.csv(
                ctx,
                "marks.csv",
                MarkJson.COLUMNS,
                fleet.marks(ctx).standing(SiteScope.EVERY).stream()
                        .map(MarkJson::row)
                        .toList());
    }

    void add(Context ctx) {
        Body body = Body.of(ctx, json);
        String machine = body.required("machine");
        Instant from = body.instant("from");
        Instant to = body.instant("to");
        Verdict verdict = Verdict.ofCode(body.required("mark"))
                .orElseThrow(() -> bad("mark must be one of "
                        + Arrays.stream(Verdict.values()).map(Verdict::code).toList()));
        Optional<Cause> cause = cause(body.text("cause"), verdict);
        if (!from.isBefore(to)) {
            throw bad("to must be after from");
        }
        if (to.isAfter(clock.instant().plus(Events.MOST_AHEAD))) {
            throw bad("to must not be later than now: a mark is of the past");
        }
        Mark.Said said = new Mark.Said(
                machine, site(ctx, machine), alert(ctx, body, machine), from, to, verdict, cause, body.text("note"));
        Mark added = fleet.marks(ctx)
                .add(SiteScope.EVERY, said, Gate.visitor(ctx).person())
                .orElseThrow(MarkResource::noMachine);
        ctx.status(201);
        reply.json(ctx, MarkJson.of(added));
    }

    private static Optional<Cause> cause(String code, Verdict verdict) {
        if (code.isEmpty()) {
            return Optional.empty();
        }
        if (verdict != Verdict.REAL) {
            throw bad("cause belongs to a mark that is real");
        }
        return Optional.of(Cause.ofCode(code).orElseThrow(() -> bad("cause is none that detection knows")));
    }

    /** Of a machine that the visitor sees; of others as if they were not there. */
    private String site(Context ctx, String machine) {
        return Optional.of(machine)
                .filter(Ids::isLegal)
                .flatMap(fleet.views(ctx)::machine)
                .map(view -> view.machine().site())
                .orElseThrow(MarkResource::noMachine);
    }

    private Optional<UUID> alert(Context ctx, Body body, String machine) {
        Optional<UUID> alert = body.uuid("alert");
        if (alert.isPresent()
                && alert.flatMap(fleet.views(ctx)::alert)
                        .flatMap(view -> view.finding().machine())
                        .filter(machine::equals)
                        .isEmpty()) {
            throw Problem.notFound("There is no such alert of that machine.").asException();
        }
        return alert;
    }

    void withdraw(Context ctx) {
        if (!id(ctx).filter(mark -> fleet.marks(ctx)
                        .withdraw(SiteScope.EVERY, mark, Gate.visitor(ctx).person()))
                .isPresent()) {
            throw Problem.notFound("There is no such mark that counts.").asException();
        }
        ctx.status(204);
    }

    private static Optional<UUID> id(Context ctx) {
        try {
            return Optional.of(UUID.fromString(ctx.pathParam("id")));
        } catch (IllegalArgumentException none) {
            return Optional.empty();
        }
    }

    private static RuntimeException noMachine() {
        return Problem.notFound("There is no such machine in the register.").asException();
    }

    private static RuntimeException bad(String what) {
        return Problem.badBody(what).asException();
    }
}
