package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Deed;
import dev.rimecast.alerts.work.Done;
import dev.rimecast.alerts.work.StoredWork;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Query;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.machine.Ids;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * {@code GET /api/v1/refrigerant.csv}: who added and recovered which refrigerant, when, where and how much.
 *
 * <p>Local law says what must be kept and for how long. In the EU that is article 7 of regulation (EU) 2024/573 (from
 * memory; read the text in force): beside these, the charge of the equipment, leak checks and their results, and where
 * recycled or reclaimed gas came from, which no report of ours asks for.
 */
final class WorkExport {
    private static final List<String> COLUMNS = List.of(
            "time",
            "site",
            "machine",
            "refrigerant",
            "added_g",
            "recovered_g",
            "by",
            "certificate",
            "job",
            "entered_by",
            "report");

    private final Fleet fleet;
    private final Reply reply;

    WorkExport(Fleet fleet, Reply reply) {
        this.fleet = fleet;
        this.reply = reply;
    }

    void refrigerant(Context ctx) {
        Optional<String> machine = Query.text(ctx, "machine");
        machine.filter(id -> !Ids.isLegal(id)).ifPresent(id -> {
            throw Problem.badParameter("machine", "machine is not an identifier")
                    .asException();
        });
        Span span = Span.of(ctx);
        List<List<String>> rows = new ArrayList<>();
        for (StoredWork work : fleet.work(ctx).between(SiteScope.EVERY, machine, span.from(), span.to())) {
            work.report().done().stream()
                    .filter(done -> done.deed().isRefrigerant())
                    .forEach(done -> rows.add(row(work, done)));
        }
        reply.csv(ctx, "refrigerant.csv", COLUMNS, rows);
    }

    private static List<String> row(StoredWork work, Done done) {
        String grams = Cells.of(done.grams());
        boolean added = done.deed() == Deed.REFRIGERANT_ADDED;
        return List.of(
                Cells.time(Optional.of(work.report().at())),
                work.site(),
                work.machine(),
                done.detail(),
                added ? grams : "",
                added ? "" : grams,
                work.report().by(),
                work.report().certificate(),
                work.report().job(),
                work.enteredBy(),
                work.report().id().toString());
    }
}
