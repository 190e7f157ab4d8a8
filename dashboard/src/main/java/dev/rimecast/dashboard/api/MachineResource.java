package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.MachineView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.CareJson;
import dev.rimecast.dashboard.json.CycleJson;
import dev.rimecast.dashboard.json.MachineJson;
import dev.rimecast.dashboard.json.ProofOfFixJson;
import dev.rimecast.dashboard.json.TemperaturesJson;
import dev.rimecast.dashboard.json.TraceJson;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;

/** {@code GET /api/v1/machines/{id}} and what it measured. */
final class MachineResource {
    private static final Duration STEP = Duration.ofMinutes(5);
    private static final Duration DEFAULT_SPAN = Duration.ofDays(1);
    private static final Duration LONGEST_SPAN = Duration.ofDays(400);
    private static final Duration LONGEST_TRACE = Duration.ofDays(1);
    /** As many points as a wide screen can show, and the bound of what one request may ask. */
    private static final int WANTED_POINTS = 1_000;

    private static final int MOST_POINTS = 10_000;
    private static final int DEFAULT_PROOFS = 10;
    private static final int MOST_PROOFS = 200;

    private record Span(Instant from, Instant to) {
        Duration length() {
            return Duration.between(from, to);
        }
    }

    private final Fleet fleet;
    private final Reply reply;
    private final InstantSource clock;

    MachineResource(Fleet fleet, Reply reply, InstantSource clock) {
        this.fleet = fleet;
        this.reply = reply;
        this.clock = clock;
    }

    void machine(Context ctx) {
        String id = id(ctx);
        reply.json(ctx, fleet.views(ctx).machine(id).map(MachineJson::of).orElseThrow(() -> unknown(id)));
    }

    void temperatures(Context ctx) {
        String id = known(ctx);
        Span span = span(ctx);
        Duration bucket = Query.duration(ctx, "bucket").orElseGet(() -> bucketFor(span));
        if (bucket.compareTo(STEP) < 0 || bucket.toMillis() % STEP.toMillis() != 0) {
            throw Problem.badParameter("bucket", "bucket must be a multiple of PT5M")
                    .asException();
        }
        if (span.length().dividedBy(bucket) > MOST_POINTS) {
            throw Problem.badParameter("bucket", "more than " + MOST_POINTS + " points: take a longer bucket")
                    .asException();
        }
        reply.json(
                ctx,
                TemperaturesJson.of(
                        span.from(),
                        span.to(),
                        bucket,
                        fleet.views(ctx).temperatures(id, span.from(), span.to(), bucket)));
    }

    void trace(Context ctx) {
        String id = known(ctx);
        Span span = span(ctx);
        if (span.length().compareTo(LONGEST_TRACE) > 0) {
            throw Problem.badParameter("from", "at most a day at once: that is for single cycles")
                    .asException();
        }
        reply.json(ctx, TraceJson.of(span.from(), span.to(), fleet.views(ctx).trace(id, span.from(), span.to())));
    }

    void care(Context ctx) {
        String id = id(ctx);
        MachineView view = fleet.views(ctx).machine(id).orElseThrow(() -> unknown(id));
        reply.json(ctx, CareJson.of(view.machine(), fleet.events(ctx).newestOf(SiteScope.EVERY, id, CareJson.KINDS)));
    }

    void proofs(Context ctx) {
        String id = known(ctx);
        int limit = Query.number(ctx, "limit", DEFAULT_PROOFS, 1, MOST_PROOFS);
        reply.json(
                ctx,
                fleet.views(ctx).proofs(id, limit).stream()
                        .map(ProofOfFixJson::of)
                        .toList());
    }

    void cycles(Context ctx) {
        String id = known(ctx);
        Span span = span(ctx);
        reply.json(
                ctx,
                fleet.views(ctx).cycles(id, span.from(), span.to()).stream()
                        .map(CycleJson::of)
                        .toList());
    }

    private static Duration bucketFor(Span span) {
        long steps = span.length().dividedBy(STEP.multipliedBy(WANTED_POINTS));
        return STEP.multipliedBy(steps + 1);
    }

    private Span span(Context ctx) {
        Instant to = Query.instant(ctx, "to").orElseGet(clock::instant);
        Instant from = Query.instant(ctx, "from").orElseGet(() -> to.minus(DEFAULT_SPAN));
        if (!from.isBefore(to)) {
            throw Problem.badParameter("from", "from must be before to").asException();
        }
        Span span = new Span(from, to);
        if (span.length().compareTo(LONGEST_SPAN) > 0) {
            throw Problem.badParameter("from", "at most 400 days at once").asException();
        }
        return span;
    }

    private String known(Context ctx) {
        String id = id(ctx);
        if (fleet.views(ctx).machine(id).isEmpty()) {
            throw unknown(id);
        }
        return id;
    }

    private static String id(Context ctx) {
        String id = ctx.pathParam("id");
        if (!Ids.isLegal(id)) {
            throw Problem.notFound("That is not the identifier of a machine.").asException();
        }
        return id;
    }

    private static RuntimeException unknown(String id) {
        return Problem.notFound("No machine " + id + " in the register.").asException();
    }
}
