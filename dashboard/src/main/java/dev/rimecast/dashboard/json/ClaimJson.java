package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.register.MachineClaims.Claim;
import dev.rimecast.telemetry.file.MachinesFile;
import dev.rimecast.telemetry.file.csv.InputProblem;
import java.time.Instant;
import java.util.List;
import java.util.Map;

/**
 * A machine that somebody put into the register.
 *
 * @param row its row as {@code machines.csv} would have it, by column, without what is empty
 */
public record ClaimJson(String machine, String site, String gateway, Instant at, String by, Map<String, String> row) {
    public static ClaimJson of(Claim claim) {
        return new ClaimJson(
                claim.machine().id(),
                claim.machine().site(),
                claim.machine().gateway(),
                claim.at(),
                claim.by(),
                MachinesFile.rowOf(claim.machine()));
    }

    /**
     * What is there by claims.
     *
     * @param modelGroups that machines of the register name, so that a new one can name the same
     */
    public record ClaimsJson(List<ClaimJson> claims, List<String> modelGroups) {}

    /** What is wrong with one column of a row. */
    public record ColumnProblemJson(String column, String problem) {
        public static ColumnProblemJson of(InputProblem problem) {
            return new ColumnProblemJson(problem.column(), problem.what());
        }
    }
}
