package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
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

    private static final List<String> NEEDED = List.of("alert", "revision", "at");
    private static final Columns COLUMNS = new Columns(
            NEEDED, HEADER.stream().filter(name -> !NEEDED.contains(name)).toList());

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

    /**
     * Reads revisions, in the order of the file.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<RevisionRow> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, AlertHistoryFile::revision);
    }

    private static RevisionRow revision(CsvRow row) {
        row.required("at");
        return new RevisionRow(
                row.required("alert"),
                row.integer("revision", 1, Integer.MAX_VALUE).orElse(1),
                row.instant("at").orElse(Instant.EPOCH),
                row.word("stage", Stage.class, Stage::code).orElse(Stage.EARLY),
                row.word("priority", Priority.class, Priority::code).orElse(Priority.LOW),
                CauseCells.read(row, "cause", "probability", "other_causes"),
                row.instant("limit_expected_at"));
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
