package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.json.ProbeJson;
import dev.rimecast.dashboard.system.Probes;
import io.javalin.http.Context;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.composite.CompositeMeterRegistry;
import io.micrometer.prometheusmetrics.PrometheusMeterRegistry;
import java.util.Optional;
import tools.jackson.databind.json.JsonMapper;

/** Answers to programs that look after the process: {@code /livez}, {@code /readyz} and {@code /metrics}. */
public final class Machinery {
    private static final int NOT_NOW = 503;

    private final Probes probes;
    private final MeterRegistry meters;
    private final JsonMapper json;

    /** @param meters scraped where it is, or holds, a Prometheus registry */
    public Machinery(Probes probes, MeterRegistry meters, JsonMapper json) {
        this.probes = probes;
        this.meters = meters;
        this.json = json;
    }

    /** For whoever restarts a process that can't go on. */
    public void live(Context ctx) {
        answer(ctx, probes.live());
    }

    /** For whoever sends it work, or waits for it. */
    public void ready(Context ctx) {
        answer(ctx, probes.ready());
    }

    private void answer(Context ctx, Probes.Answer answer) {
        ctx.status(answer.isYes() ? 200 : NOT_NOW);
        ctx.header("Cache-Control", "no-store");
        ctx.contentType("application/json");
        ctx.result(json.writeValueAsBytes(ProbeJson.of(answer)));
    }

    public void metrics(Context ctx) {
        PrometheusMeterRegistry prometheus = prometheus(meters)
                .orElseThrow(() ->
                        Problem.notFound("No Prometheus registry is wired.").asException());
        ctx.header("Cache-Control", "no-store");
        ctx.contentType("text/plain; version=0.0.4; charset=utf-8");
        ctx.result(prometheus.scrape());
    }

    private static Optional<PrometheusMeterRegistry> prometheus(MeterRegistry registry) {
        if (registry instanceof PrometheusMeterRegistry prometheus) {
            return Optional.of(prometheus);
        }
        if (registry instanceof CompositeMeterRegistry composite) {
            return composite.getRegistries().stream()
                    .flatMap(part -> prometheus(part).stream())
                    .findFirst();
        }
        return Optional.empty();
    }
}
