package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;

/** {@code alert_history.csv}: a row for each revision, by alert and revision. */
public final class AlertHistoryFile {
    private static final List<String> HEADER = List.of(
            "alert",
            "revision",
            "at",
            "stage",
            "priority",
            "cause",
            "probability",
            "other_causes",
            "limit_expected_at");

    private AlertHistoryFile() {}

    /**
     * Writes how the alerts developed.
     *
     * @param findings every revision of every finding, in any order
     */
    public static void write(Path file, Collection<Finding> findings) throws IOException {
        try (CsvOutput out = new CsvOutput(file, HEADER)) {
            for (Development alert : Development.of(findings)) {
                for (Finding revision : alert.revisions()) {
                    out.row(cells(revision));
                }
            }
        }
    }

    private static List<String> cells(Finding revision) {
        CauseCells causes = CauseCells.of(revision.causes());
        return List.of(
                revision.id().toString(),
                Integer.toString(revision.revision()),
                IsoTime.format(revision.at()),
                revision.stage().code(),
                revision.priority().code(),
                causes.cause(),
                causes.probability(),
                causes.others(),
                Cells.time(revision.limit().map(LimitExpected::at)));
    }
}
