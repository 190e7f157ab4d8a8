package dev.rimecast.dashboard.api;

import dev.rimecast.alerts.register.MachineClaims;
import dev.rimecast.dashboard.access.Gate;
import dev.rimecast.dashboard.http.Problem;
import dev.rimecast.dashboard.http.Reply;
import dev.rimecast.dashboard.json.ClaimJson;
import dev.rimecast.dashboard.json.ClaimJson.ClaimsJson;
import dev.rimecast.dashboard.json.ClaimJson.ColumnProblemJson;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.csv.InputProblems;
import dev.rimecast.telemetry.machine.Machine;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import tools.jackson.databind.json.JsonMapper;

/** {@code /api/v1/claims}: machines that are put into the register while the product runs. */
final class ClaimResource {
    private static final int LONGEST_CELL = 200;

    private final MachineClaims claims;
    private final Reply reply;
    private final JsonMapper json;
    private final Runnable forget;

    /** @param forget forgets kept answers, so that whoever claimed a machine sees it */
    ClaimResource(MachineClaims claims, Reply reply, JsonMapper json, Runnable forget) {
        this.claims = claims;
        this.reply = reply;
        this.json = json;
        this.forget = forget;
    }

    void list(Context ctx) {
        reply.json(ctx, new ClaimsJson(claims.list().stream().map(ClaimJson::of).toList(), claims.modelGroups()));
    }

    void claim(Context ctx) {
        Body body = Body.of(ctx, json);
        boolean isNewSite = body.flag("newSite");
        Machine machine = machine(body.texts("row", LONGEST_CELL));
        MachineClaims.Claim claim = Answers.done(
                claims.claim(Gate.visitor(ctx).person().name(), machine, isNewSite), "There is no such machine.");
        forget.run();
        ctx.status(201);
        reply.json(ctx, ClaimJson.of(claim));
    }

    private static Machine machine(Map<String, String> row) {
        try {
            return MachinesFile.readOne(row);
        } catch (InputProblems e) {
            List<ColumnProblemJson> problems =
                    e.problems().stream().map(ColumnProblemJson::of).toList();
            String detail = problems.stream()
                    .map(problem -> problem.column().isEmpty()
                            ? problem.problem()
                            : problem.column() + ": " + problem.problem())
                    .collect(Collectors.joining("; "));
            throw new Problem(400, "bad-row", "The row is not understood", detail, Map.of("problems", problems))
                    .asException();
        }
    }

    void release(Context ctx) {
        String id = ctx.pathParam("id");
        var unused = Answers.done(
                claims.release(Gate.visitor(ctx).person().name(), id),
                "No machine " + id + " is in the register, or not any more.");
        forget.run();
        ctx.status(204);
    }
}
