package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.MissedCall;
import dev.rimecast.dashboard.access.Fleet;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.telemetry.file.TruthFile;
import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.proof.Verdict;
import io.javalin.http.Context;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;

/** Outcomes as labels: {@code truth.csv} of what was found, and calls that nothing had warned of. */
final class OutcomeExport {
    private static final List<String> MISSED =
            List.of("call", "time", "site", "machine", "complaint", "was_silent", "by", "job", "case");

    private final Fleet fleet;
    private final Reply reply;

    OutcomeExport(Fleet fleet, Reply reply) {
        this.fleet = fleet;
        this.reply = reply;
    }

    void outcomes(Context ctx) {
        reply.csv(
                ctx,
                "truth.csv",
                with(TruthFile.columns(), "proof"),
                fleet.work(ctx).outcomes(SiteScope.EVERY).stream()
                        .map(found -> with(
                                TruthFile.cells(found.truth()),
                                found.proof().map(Verdict::code).orElse("")))
                        .toList());
    }

    private static List<String> with(List<String> cells, String last) {
        return Stream.concat(cells.stream(), Stream.of(last)).toList();
    }

    void missedCalls(Context ctx) {
        Span span = Span.of(ctx);
        reply.csv(
                ctx,
                "missed-calls.csv",
                MISSED,
                fleet.work(ctx).missedCalls(SiteScope.EVERY, span.from(), span.to()).stream()
                        .map(OutcomeExport::row)
                        .toList());
    }

    private static List<String> row(MissedCall call) {
        return List.of(
                Long.toString(call.event()),
                Cells.time(Optional.of(call.at())),
                call.site(),
                Cells.of(call.machine()),
                call.complaint(),
                Cells.flag(call.wasSilent()),
                call.by(),
                call.job(),
                Cells.of(call.caseId()));
    }
}
