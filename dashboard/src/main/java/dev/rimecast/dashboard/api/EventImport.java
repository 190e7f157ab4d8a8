package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Events.Outcome;
import dev.rimecast.alerts.view.Events.Report;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.EventJson.ImportJson;
import dev.rimecast.dashboard.json.EventJson.RowProblemJson;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.csv.CsvTable.Numbered;
import dev.rimecast.telemetry.file.csv.CsvTable.Readable;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** {@code POST /api/v1/events/import}: {@code events.csv}; good rows go in, and each bad one is told with its line. */
final class EventImport {
    private static final String TOO_LONG = "Send at most 4 MiB at once; what has gone in is not added again.";
    private static final String NAME = "events.csv";

    private final Fleet fleet;
    private final Reply reply;

    EventImport(Fleet fleet, Reply reply) {
        this.fleet = fleet;
        this.reply = reply;
    }

    void take(Context ctx) {
        Readable<EventRow> table = CsvBody.read(ctx, TOO_LONG, csv -> EventsFile.readGoodRows(NAME, csv));
        List<Report> reports =
                table.rows().stream().map(row -> report(row.value())).toList();
        List<Outcome> outcomes = fleet.events(ctx)
                .report(SiteScope.EVERY, reports, Gate.visitor(ctx).person());
        reply.json(ctx, summary(table, outcomes));
    }

    private static Report report(EventRow row) {
        return new Report(
                row.site(), row.machine(), Optional.of(row.at()), row.kind(), row.detail(), row.by(), row.job());
    }

    private static ImportJson summary(Readable<EventRow> table, List<Outcome> outcomes) {
        List<RowProblemJson> problems =
                new ArrayList<>(table.problems().stream().map(CsvBody::problem).toList());
        int added = 0;
        int known = 0;
        for (int i = 0; i < outcomes.size(); i++) {
            Numbered<EventRow> row = table.rows().get(i);
            Outcome outcome = outcomes.get(i);
            if (outcome instanceof Outcome.Added) {
                added++;
            } else if (outcome instanceof Outcome.Known) {
                known++;
            } else if (outcome instanceof Outcome.Refused refused) {
                problems.add(new RowProblemJson(row.line(), refused.member(), refused.reason()));
            } else if (outcome instanceof Outcome.NotFound missing) {
                problems.add(new RowProblemJson(row.line(), "", missing.what()));
            }
        }
        problems.sort(Comparator.comparingLong(RowProblemJson::line));
        int refused = CsvBody.lines(problems);
        return new ImportJson(added + known + refused, added, known, refused, problems);
    }
}
