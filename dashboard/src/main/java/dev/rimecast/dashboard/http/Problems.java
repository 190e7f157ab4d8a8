package dev.rimecast.dashboard.http;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.Function;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import tools.jackson.databind.json.JsonMapper;

/** The one place where a failure becomes an answer: the caller's fault as 4xx, ours as 5xx, never a stack trace. */
public final class Problems {
    private static final Logger LOG = LoggerFactory.getLogger(Problems.class);
    private static final int FORBIDDEN = 403;

    private final JsonMapper json;
    private final Consumer<Context> page;
    private final Function<Context, String> who;

    /**
     * @param page answers a browser
     * @param who names whoever makes a request, for the log
     */
    public Problems(JsonMapper json, Consumer<Context> page, Function<Context, String> who) {
        this.json = json;
        this.page = page;
        this.who = who;
    }

    public void install(RoutesConfig routes) {
        routes.exception(ProblemException.class, (e, ctx) -> answer(ctx, e.problem()));
        routes.exception(HttpResponseException.class, (e, ctx) -> answer(ctx, of(e, ctx.path())));
        routes.exception(Exception.class, (e, ctx) -> {
            LOG.error("{} {} failed", ctx.method(), ctx.path(), e);
            answer(ctx, Problem.internal());
        });
    }

    private static Problem of(HttpResponseException e, String path) {
        if (e.getStatus() == 404) {
            return Problem.notFound("No resource at " + path + '.');
        }
        String detail = e.getMessage() == null ? "" : e.getMessage();
        return new Problem(e.getStatus(), "http-" + e.getStatus(), "The request was refused", detail, Map.of());
    }

    private void answer(Context ctx, Problem problem) {
        if (problem.status() == FORBIDDEN) {
            LOG.info(
                    "refused: {} {} to {} from {}, {}",
                    ctx.method(),
                    ctx.path(),
                    who.apply(ctx),
                    ctx.ip(),
                    problem.code());
        }
        ctx.status(problem.status());
        ctx.header("Cache-Control", "no-store");
        String accept = ctx.header("Accept");
        if (!ctx.path().startsWith("/api/") && accept != null && accept.contains("text/html")) {
            page.accept(ctx);
            return;
        }
        ctx.contentType("application/problem+json");
        ctx.result(json.writeValueAsBytes(problem.members(ctx.path())));
    }
}
