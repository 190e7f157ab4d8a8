package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.GatewayView;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.DeadLetterJson;
import dev.rimecast.dashboard.json.SystemJson;
import dev.rimecast.dashboard.json.SystemJson.CounterJson;
import dev.rimecast.dashboard.system.NotPossibleException;
import dev.rimecast.dashboard.system.SystemWatch;
import io.javalin.http.Context;
import io.micrometer.core.instrument.Counter;
import io.micrometer.core.instrument.Gauge;
import io.micrometer.core.instrument.Meter;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Tag;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.InstantSource;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/system}: the product for whoever runs it, who must see every site. */
final class SystemResource {
    private static final Logger LOG = LoggerFactory.getLogger(SystemResource.class);
    private static final String OURS = "rimecast.";
    private static final int DEFAULT_REJECTS = 20;
    private static final int MOST_REJECTS = 100;

    private final Fleet fleet;
    private final Reply reply;
    private final SystemWatch watch;
    private final MeterRegistry meters;
    private final InstantSource clock;
    private final JsonMapper json;

    SystemResource(
            Fleet fleet, Reply reply, SystemWatch watch, MeterRegistry meters, InstantSource clock, JsonMapper json) {
        this.json = json;
        this.fleet = fleet;
        this.reply = reply;
        this.watch = watch;
        this.meters = meters;
        this.clock = clock;
    }

    void system(Context ctx) {
        everySite(ctx);
        reply.json(
                ctx,
                new SystemJson(
                        clock.instant(),
                        watch.versions().stream()
                                .map(SystemJson.VersionJson::of)
                                .toList(),
                        watch.disks().stream().map(SystemJson.DiskJson::of).toList(),
                        counters(),
                        fleet.views(ctx).gateways().stream()
                                .map(SystemJson.GatewayJson::of)
                                .toList()));
    }

    void rejects(Context ctx) {
        everySite(ctx);
        int limit = Query.number(ctx, "limit", DEFAULT_REJECTS, 1, MOST_REJECTS);
        reply.json(
                ctx,
                asked(() -> watch.rejects(limit)).stream()
                        .map(SystemJson.RejectedJson::of)
                        .toList());
    }

    void replay(Context ctx) {
        Body.of(ctx, json);
        String id = ctx.pathParam("id");
        SystemWatch.ReplayOutcome outcome =
                asked(() -> watch.replay(id, Gate.visitor(ctx).person().name()));
        if (outcome instanceof SystemWatch.ReplayOutcome.Done done) {
            reply.json(ctx, SystemJson.ReplayedJson.of(done.replayed()));
        } else if (outcome instanceof SystemWatch.ReplayOutcome.NothingLeft nothing) {
            throw new Problem(
                            409,
                            "nothing-left",
                            "Nothing of it is left to be taken",
                            nothing.before()
                                    .map(last ->
                                            "Everything of it was taken by " + last.by() + " at " + last.at() + '.')
                                    .orElse("Its readings were taken when it came; only its number was bad."),
                            Map.of())
                    .asException();
        } else {
            throw Problem.notFound("No rejected message " + id + ", or not any more.")
                    .asException();
        }
    }

    void deadLetters(Context ctx) {
        everySite(ctx);
        int limit = Query.number(ctx, "limit", DEFAULT_REJECTS, 1, MOST_REJECTS);
        reply.json(
                ctx,
                asked(() -> watch.deadLetters(limit)).stream()
                        .map(DeadLetterJson::of)
                        .toList());
    }

    void retake(Context ctx) {
        Body.of(ctx, json);
        String id = ctx.pathParam("id");
        String by = Gate.visitor(ctx).person().name();
        SystemWatch.RetakeOutcome outcome;
        try {
            outcome = asked(() -> watch.retake(id, by));
        } catch (NotPossibleException e) {
            throw notPossible(e);
        }
        if (outcome instanceof SystemWatch.RetakeOutcome.Done done) {
            reply.json(ctx, DeadLetterJson.RetakeJson.of(done.retake()));
        } else if (outcome instanceof SystemWatch.RetakeOutcome.NothingLeft nothing) {
            throw new Problem(
                            409,
                            "nothing-left",
                            "It was taken already",
                            "It was taken again by " + nothing.before().by() + " at "
                                    + nothing.before().at() + ", and nothing is known of a failure since.",
                            Map.of())
                    .asException();
        } else {
            throw Problem.notFound("No dead letter " + id + ", or not any more.")
                    .asException();
        }
    }

    /** The archive is gone from the server when it has been sent. */
    void backup(Context ctx) throws IOException {
        Body.of(ctx, json);
        LOG.info("{} makes a backup", Gate.visitor(ctx).person().name());
        Path file;
        try {
            file = watch.backup();
        } catch (NotPossibleException e) {
            throw notPossible(e);
        }
        String name = "rimecast-" + clock.instant().toString().replace(":", "").substring(0, 17) + ".backup.zip";
        ctx.header("Cache-Control", "no-store");
        ctx.header("Content-Disposition", "attachment; filename=\"" + name + '"');
        ctx.header("Content-Length", Long.toString(Files.size(file)));
        ctx.contentType("application/zip");
        ctx.result(Files.newInputStream(file, StandardOpenOption.DELETE_ON_CLOSE));
    }

    void unclaimed(Context ctx) {
        everySite(ctx);
        List<GatewayView> gateways = fleet.views(ctx).gateways();
        reply.json(
                ctx,
                asked(watch::unclaimed).stream()
                        .map(waiting -> SystemJson.UnclaimedJson.of(waiting, gateways))
                        .filter(waiting -> !isTakenOver(waiting))
                        .toList());
    }

    /** Claimed a moment ago: ingest is just putting what waits into the site's log. */
    private static boolean isTakenOver(SystemJson.UnclaimedJson waiting) {
        return waiting.registeredBehind().filter(waiting.gateway()::equals).isPresent();
    }

    private static RuntimeException notPossible(NotPossibleException e) {
        return new Problem(409, "not-possible", "That is not possible now", String.valueOf(e.getMessage()), Map.of())
                .asException();
    }

    /** A payload can be of any site. */
    private void everySite(Context ctx) {
        if (!fleet.sites(ctx).isEvery()) {
            throw new Problem(
                            403,
                            "every-site",
                            "This is for who sees every site",
                            "What the product says of itself may be of any site.",
                            Map.of())
                    .asException();
        }
    }

    private static <T> T asked(Supplier<T> question) {
        try {
            return question.get();
        } catch (NotPossibleException e) {
            throw e;
        } catch (RuntimeException e) {
            LOG.warn("what was laid aside could not be read", e);
            throw Problem.unavailable("What was laid aside can't be read at the moment: Kafka does not answer.")
                    .asException();
        }
    }

    private List<CounterJson> counters() {
        return meters.getMeters().stream()
                .filter(meter -> meter.getId().getName().startsWith(OURS))
                .flatMap(meter -> value(meter).stream().map(value -> counter(meter, value)))
                .sorted(Comparator.comparing(CounterJson::name)
                        .thenComparing(counter -> counter.labels().toString()))
                .toList();
    }

    private static CounterJson counter(Meter meter, double value) {
        Map<String, String> labels = new TreeMap<>();
        for (Tag tag : meter.getId().getTags()) {
            labels.put(tag.getKey(), tag.getValue());
        }
        return new CounterJson(meter.getId().getName(), labels, value);
    }

    private static Optional<Double> value(Meter meter) {
        if (meter instanceof Counter counter) {
            return Optional.of(counter.count());
        }
        return meter instanceof Gauge gauge && Double.isFinite(gauge.value())
                ? Optional.of(gauge.value())
                : Optional.empty();
    }
}
