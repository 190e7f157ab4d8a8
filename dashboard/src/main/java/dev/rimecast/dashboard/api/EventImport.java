package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.Events.Outcome;
import dev.rimecast.alerts.view.Events.Report;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.EventJson.ImportJson;
import dev.rimecast.dashboard.json.EventJson.RowProblemJson;
import dev.rimecast.telemetry.file.EventRow;
import dev.rimecast.telemetry.file.EventsFile;
import dev.rimecast.telemetry.file.csv.CsvTable.Numbered;
import dev.rimecast.telemetry.file.csv.CsvTable.Readable;
import dev.rimecast.telemetry.file.csv.InputProblem;
import dev.rimecast.telemetry.file.csv.InputProblems;
import io.javalin.http.Context;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** {@code POST /api/v1/events/import}: {@code events.csv}; good rows go in, and each bad one is told with its line. */
final class EventImport {
    private static final int LONGEST_BYTES = 4 * 1024 * 1024;
    private static final String TOO_LONG = "Send at most 4 MiB at once; what has gone in is not added again.";
    private static final String NAME = "events.csv";

    private final Fleet fleet;
    private final Reply reply;

    EventImport(Fleet fleet, Reply reply) {
        this.fleet = fleet;
        this.reply = reply;
    }

    void take(Context ctx) {
        String type = ctx.contentType();
        if (type == null || !type.startsWith("text/csv")) {
            throw new Problem(415, "not-csv", "The body must be CSV", "Send text/csv.", Map.of()).asException();
        }
        Readable<EventRow> table = read(Body.bytes(ctx, LONGEST_BYTES, TOO_LONG));
        List<Report> reports =
                table.rows().stream().map(row -> report(row.value())).toList();
        List<Outcome> outcomes = fleet.events(ctx)
                .report(SiteScope.EVERY, reports, Gate.visitor(ctx).person());
        reply.json(ctx, summary(table, outcomes));
    }

    private static Readable<EventRow> read(byte[] csv) {
        try {
            return EventsFile.readGoodRows(NAME, new ByteArrayInputStream(csv));
        } catch (InputProblems e) {
            List<RowProblemJson> problems =
                    e.problems().stream().map(EventImport::problem).toList();
            throw new Problem(
                            400,
                            "bad-csv",
                            "The CSV is not understood",
                            String.valueOf(e.getMessage()),
                            Map.of("problems", problems))
                    .asException();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static Report report(EventRow row) {
        return new Report(
                row.site(), row.machine(), Optional.of(row.at()), row.kind(), row.detail(), row.by(), row.job());
    }

    private static ImportJson summary(Readable<EventRow> table, List<Outcome> outcomes) {
        List<RowProblemJson> problems = new ArrayList<>(
                table.problems().stream().map(EventImport::problem).toList());
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
        int refused = (int) problems.stream()
                .mapToLong(RowProblemJson::line)
                .filter(line -> line > 0)
                .distinct()
                .count();
        return new ImportJson(added + known + refused, added, known, refused, problems);
    }

    private static RowProblemJson problem(InputProblem problem) {
        return new RowProblemJson(problem.line(), problem.column(), problem.what());
    }
}
