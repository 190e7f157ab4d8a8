package dev.rimecast.dashboard.http;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.Timer;
import java.time.Duration;

/** Times every request by route, never by full path, so that the number of series stays small. */
public final class RequestMeter {
    private static final String STARTED = "rimecast.started";

    /** Upper bounds; lists should be there within 50 ms, and nobody waits longer than seconds. */
    private static final Duration[] BUCKETS = {
        Duration.ofMillis(50), Duration.ofMillis(200), Duration.ofSeconds(1), Duration.ofSeconds(5)
    };

    private final MeterRegistry meters;

    public RequestMeter(MeterRegistry meters) {
        this.meters = meters;
    }

    public void install(RoutesConfig routes) {
        routes.before(ctx -> ctx.attribute(STARTED, System.nanoTime()));
        routes.after(this::record);
    }

    private void record(Context ctx) {
        Long started = ctx.attribute(STARTED);
        if (started == null || ctx.path().endsWith("/events")) {
            return;
        }
        Timer.builder("rimecast.dashboard.requests")
                .description("Time from the request to the answer's first byte")
                .tag("method", ctx.method().name())
                .tag("route", route(ctx.path()))
                .tag("status", String.valueOf(ctx.statusCode()))
                .serviceLevelObjectives(BUCKETS)
                .register(meters)
                .record(Duration.ofNanos(System.nanoTime() - started));
    }

    /** {@code /api/v1/machines/x/cycles} becomes {@code machines/cycles}: names of resources, no identifiers. */
    private static String route(String path) {
        String[] parts = path.split("/", -1);
        boolean api = parts.length > 3 && parts[1].equals("api");
        String resource = api ? parts[3] : parts.length > 1 ? parts[1] : "";
        return switch (resource) {
            case "fleet", "sites", "status", "healthz", "livez", "readyz", "metrics", "assets" -> resource;
            case "machines", "alerts" -> api ? resource + (parts.length > 5 ? "/part" : "") : "page";
            case "" -> "page";
            default -> "other";
        };
    }
}
