package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.EventView;
import dev.rimecast.alerts.view.Events;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.CareLine;
import dev.rimecast.alerts.work.StoredWork;
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
import java.util.function.Function;

/** The hygiene record of a machine, or of all on a site: who did what, when; as JSON and as a table. */
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

    void ofMachine(Context ctx) {
        json(ctx, linesOfMachine(ctx, machine(ctx)));
    }

    void tableOfMachine(Context ctx) {
        String machine = machine(ctx);
        table(ctx, machine, linesOfMachine(ctx, machine));
    }

    void ofSite(Context ctx) {
        json(ctx, linesOfSite(ctx, site(ctx)));
    }

    void tableOfSite(Context ctx) {
        String site = site(ctx);
        table(ctx, site, linesOfSite(ctx, site));
    }

    private void json(Context ctx, List<CareLine> lines) {
        reply.json(ctx, lines.stream().map(CareLineJson::of).toList());
    }

    private void table(Context ctx, String of, List<CareLine> lines) {
        reply.csv(
                ctx,
                "care-" + of + ".csv",
                COLUMNS,
                lines.stream().map(CareRecordResource::row).toList());
    }

    /** What was done to this machine by name: of its site's own events it is not known whether it was there yet. */
    private List<CareLine> linesOfMachine(Context ctx, String machine) {
        Events events = fleet.events(ctx);
        return lines(
                        ctx,
                        before -> events.ofMachine(SiteScope.EVERY, machine, before, AT_ONCE),
                        span -> fleet.work(ctx).between(SiteScope.EVERY, Optional.of(machine), span.from(), span.to()))
                .stream()
                .filter(line -> line.machine().isPresent())
                .toList();
    }

    /** What was done at the site, also on machines that have left it, and to all of it. */
    private List<CareLine> linesOfSite(Context ctx, String site) {
        Events events = fleet.events(ctx);
        return lines(
                ctx,
                before -> events.ofSite(SiteScope.EVERY, site, before, AT_ONCE),
                span -> fleet.work(ctx).between(SiteScope.of(List.of(site)), Optional.empty(), span.from(), span.to()));
    }

    /** @param page of events after one of them, newest first */
    private static List<CareLine> lines(
            Context ctx, Function<Optional<Long>, List<EventView>> page, Function<Span, List<StoredWork>> work) {
        Span span = Span.of(ctx);
        List<EventView> within = new ArrayList<>();
        Optional<Long> before = Optional.empty();
        List<EventView> some;
        boolean isDone;
        do {
            some = page.apply(before);
            some.stream().filter(event -> span.includes(event.at())).forEach(within::add);
            Optional<EventView> oldest = some.stream().reduce((first, second) -> second);
            before = oldest.map(EventView::id);
            isDone = some.size() < AT_ONCE
                    || oldest.filter(event -> event.at().isBefore(span.from())).isPresent();
        } while (!isDone);
        return CareLine.of(within, work.apply(span));
    }

    private static List<String> row(CareLine line) {
        return List.of(
                Cells.time(Optional.of(line.at())),
                line.machine().orElse(""),
                line.site(),
                line.what(),
                line.detail(),
                line.by(),
                line.job(),
                line.enteredBy());
    }

    private String machine(Context ctx) {
        String id = id(ctx, "machine");
        if (fleet.views(ctx).machine(id).isEmpty()) {
            throw Problem.notFound("No machine " + id + " in the register.").asException();
        }
        return id;
    }

    private String site(Context ctx) {
        String id = id(ctx, "site");
        if (fleet.views(ctx).sites().stream().noneMatch(each -> each.id().equals(id))) {
            throw Problem.notFound("No site " + id + " in the register.").asException();
        }
        return id;
    }

    private static String id(Context ctx, String what) {
        String id = ctx.pathParam("id");
        if (!Ids.isLegal(id)) {
            throw Problem.notFound("That is not the identifier of a " + what + '.')
                    .asException();
        }
        return id;
    }
}
