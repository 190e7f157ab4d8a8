package dev.rimecast.dashboard.api;

import dev.rimecast.dashboard.HealthView;
import dev.rimecast.dashboard.HealthView.State;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.json.StatusJson;
import dev.rimecast.dashboard.json.StatusJson.StageJson;
import io.javalin.http.Context;
import java.time.InstantSource;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntSupplier;
import java.util.function.Supplier;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/status} and {@code /healthz}. */
final class StatusResource {
    private final Supplier<HealthView> health;
    private final InstantSource clock;
    private final IntSupplier viewers;
    private final String version;
    private final JsonMapper json;

    StatusResource(
            Supplier<HealthView> health, InstantSource clock, IntSupplier viewers, String version, JsonMapper json) {
        this.health = health;
        this.clock = clock;
        this.viewers = viewers;
        this.version = version;
        this.json = json;
    }

    void status(Context ctx) {
        plain(ctx, asked(ctx));
    }

    /** What a stage says of itself can name a site: it is for those who see them all. */
    StatusJson asked(Context ctx) {
        boolean whole = Gate.known(ctx).filter(who -> who.sites().isEvery()).isPresent();
        HealthView view = health.get();
        List<StageJson> stages = view.stages().stream()
                .map(stage -> new StageJson(stage.name(), stage.state().code(), whole ? stage.detail() : ""))
                .toList();
        return new StatusJson(
                "Rimecast", version, clock.instant(), view.overall().code(), stages, view.demo(), viewers.getAsInt());
    }

    /** The data of a {@code clock} event. */
    String clockEvent() {
        Map<String, Object> data = new LinkedHashMap<>();
        data.put("now", clock.instant());
        health.get().demo().ifPresent(demo -> data.put("demo", demo));
        return json.writeValueAsString(data);
    }

    /** For whoever restarts what is down: 503 only then. */
    void healthz(Context ctx) {
        StatusJson status = asked(ctx);
        ctx.status(status.state().equals(State.DOWN.code()) ? 503 : 200);
        plain(ctx, status);
    }

    /** Never kept and never compared: the time in it is always new. */
    private void plain(Context ctx, StatusJson status) {
        ctx.header("Cache-Control", "no-store");
        ctx.contentType("application/json");
        ctx.result(json.writeValueAsBytes(status));
    }
}
