package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.dashboard.HealthView;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.live.LiveHub;
import io.javalin.config.RoutesConfig;
import io.micrometer.core.instrument.MeterRegistry;
import java.time.InstantSource;
import java.util.function.Supplier;
import tools.jackson.databind.json.JsonMapper;

/** Builds the resources and names their routes. */
public final class Api {
    private final FleetResource fleet;
    private final MachineResource machines;
    private final AlertResource alerts;
    private final HoldResource holds;
    private final CaseResource cases;
    private final NoticeResource notices;
    private final StatusResource status;

    public Api(
            Views views,
            Actions actions,
            Notices told,
            LiveHub hub,
            InstantSource clock,
            MeterRegistry meters,
            Supplier<HealthView> health,
            String version,
            JsonMapper json) {
        Reply reply = new Reply(json, clock);
        fleet = new FleetResource(views, reply, hub::alertChanges, System::nanoTime);
        machines = new MachineResource(views, reply, clock);
        alerts = new AlertResource(views, actions, reply, json, fleet::forget);
        holds = new HoldResource(views, actions, reply, json, fleet::forget);
        cases = new CaseResource(views, actions, reply, json);
        notices = new NoticeResource(told, reply, json);
        status = new StatusResource(health, clock, hub::viewers, version, meters, json);
    }

    /** The data of a {@code clock} event as of now. */
    public String clockEvent() {
        return status.clockEvent();
    }

    public void install(RoutesConfig routes) {
        routes.get("/api/v1/fleet", fleet::fleet)
                .get("/api/v1/sites", fleet::sites)
                .get("/api/v1/machines/{id}", machines::machine)
                .get("/api/v1/machines/{id}/temperatures", machines::temperatures)
                .get("/api/v1/machines/{id}/cycles", machines::cycles)
                .get("/api/v1/alerts", alerts::list)
                .get("/api/v1/alerts/{id}", alerts::one)
                .post("/api/v1/alerts/{id}/acknowledge", alerts::acknowledge)
                .post("/api/v1/alerts/{id}/reset", alerts::reset)
                .post("/api/v1/alerts/{id}/shelve", alerts::shelve)
                .post("/api/v1/alerts/{id}/out-of-service", alerts::takeOutOfService)
                .post("/api/v1/machines/{id}/out-of-service", holds::takeOutOfService)
                .get("/api/v1/cases", cases::list)
                .get("/api/v1/cases/{id}", cases::one)
                .post("/api/v1/cases/{id}/close", cases::close)
                .get("/api/v1/holds", holds::list)
                .post("/api/v1/holds/{id}/end", holds::end)
                .get("/api/v1/notices", notices::list)
                .get("/api/v1/notices/{id}", notices::one)
                .post("/api/v1/notices/{id}/retry", notices::retry)
                .get("/api/v1/receivers", notices::receivers)
                .post("/api/v1/receivers/{name}/test", notices::test)
                .get("/api/v1/status", status::status)
                .get("/healthz", status::healthz)
                .get("/metrics", status::metrics)
                .get("/api/*", ctx -> {
                    throw Problem.notFound("No resource at " + ctx.path() + '.').asException();
                });
    }
}
