package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.CareLine;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.CareLineJson;
import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A machine's hygiene record: who did what, when; as JSON and as a table. */
final class CareRecordResource {
    private static final List<String> COLUMNS =
            List.of("time", "machine", "site", "what", "detail", "by", "job", "entered_by");
    private static final int AT_ONCE = 500;

    private final Fleet fleet;
    private final Reply reply;

    CareRecordResource(Fleet fleet, Reply reply) {
        this.fleet = fleet;
        this.reply = reply;
    }

    void json(Context ctx) {
        reply.json(ctx, lines(ctx, known(ctx)).stream().map(CareLineJson::of).toList());
    }

    void csv(Context ctx) {
        String machine = known(ctx);
        reply.csv(
                ctx,
                "care-" + machine + ".csv",
                COLUMNS,
                lines(ctx, machine).stream().map(line -> row(machine, line)).toList());
    }

    private List<CareLine> lines(Context ctx, String machine) {
        Events events = fleet.events(ctx);
        List<EventView> all = new ArrayList<>();
        Optional<Long> before = Optional.empty();
        List<EventView> page;
        do {
            page = events.ofMachine(SiteScope.EVERY, machine, before, AT_ONCE);
            all.addAll(page);
            before = page.isEmpty()
                    ? before
                    : Optional.of(page.get(page.size() - 1).id());
        } while (page.size() == AT_ONCE);
        return CareLine.of(
                all, fleet.work(ctx).between(SiteScope.EVERY, Optional.of(machine), Span.EVER.from(), Span.EVER.to()));
    }

    private static List<String> row(String machine, CareLine line) {
        return List.of(
                Cells.time(Optional.of(line.at())),
                machine,
                line.site(),
                line.what(),
                line.detail(),
                line.by(),
                line.job(),
                line.enteredBy());
    }

    private String known(Context ctx) {
        String id = ctx.pathParam("id");
        if (!Ids.isLegal(id)) {
            throw Problem.notFound("That is not the identifier of a machine.").asException();
        }
        if (fleet.views(ctx).machine(id).isEmpty()) {
            throw Problem.notFound("No machine " + id + " in the register.").asException();
        }
        return id;
    }
}
