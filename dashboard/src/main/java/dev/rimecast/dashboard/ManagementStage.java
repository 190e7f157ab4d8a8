package dev.rimecast.dashboard;

import dev.rimecast.alerts.people.Secret;
import dev.rimecast.dashboard.api.Machinery;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Problems;
import dev.rimecast.dashboard.http.SameOrigin;
import dev.rimecast.dashboard.http.SecurityHeaders;
import dev.rimecast.dashboard.json.WireFormat;
import dev.rimecast.dashboard.system.Probes;
import io.javalin.Javalin;
import io.javalin.http.Context;
import io.micrometer.core.instrument.MeterRegistry;
import java.util.Map;
import java.util.Optional;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import tools.jackson.databind.json.JsonMapper;

/**
 * {@code /livez}, {@code /readyz} and {@code /metrics}, and nothing else: for a process that has no pages, or beside them. It
 * listens before anything else of the process has begun, so that a long start is no silence, and until all has ended.
 */
public final class ManagementStage implements AutoCloseable {
    private static final String BEARER = "Bearer ";

    private final Javalin server;

    private ManagementStage(Javalin server) {
        this.server = server;
    }

    /**
     * Starts to listen.
     *
     * @param meters scraped where it is, or holds, a Prometheus registry
     * @throws io.javalin.util.JavalinBindException if the port is taken
     */
    public static ManagementStage start(ManagementSettings settings, Probes probes, MeterRegistry meters) {
        JsonMapper json = WireFormat.mapper();
        Machinery machinery = new Machinery(probes, meters, json);
        Javalin server = Javalin.create(config -> {
            QueuedThreadPool threads = new QueuedThreadPool(12, 2);
            threads.setName("management");
            DashboardStage.server(config, settings.listen(), json, threads);
            config.routes.before(SecurityHeaders::set);
            config.routes.before(new SameOrigin(settings.listen().host())::check);
            new Problems(json, ctx -> ctx.result("nothing here\n"), ctx -> "nobody known").install(config.routes);
            config.routes
                    .get("/livez", machinery::live)
                    .get("/readyz", machinery::ready)
                    .get("/metrics", ctx -> {
                        check(ctx, settings.token());
                        machinery.metrics(ctx);
                    });
        });
        server.start();
        DashboardStage.leaveIdleConnections(server);
        return new ManagementStage(server);
    }

    private static void check(Context ctx, Optional<String> token) {
        String sent = Optional.ofNullable(ctx.header("Authorization"))
                .filter(value -> value.regionMatches(true, 0, BEARER, 0, BEARER.length()))
                .map(value -> value.substring(BEARER.length()).strip())
                .orElse("");
        if (token.filter(expected -> !Secret.same(sent, expected)).isPresent()) {
            ctx.header("WWW-Authenticate", "Bearer");
            throw new Problem(
                            401,
                            "not-signed-in",
                            "This needs the token of the management address",
                            "Send what is in management.token-file as a bearer token.",
                            Map.of())
                    .asException();
        }
    }

    /** Where it listens, known even where any free port was asked for. */
    public int port() {
        return server.port();
    }

    @Override
    public void close() {
        DashboardStage.stop(server);
    }
}
