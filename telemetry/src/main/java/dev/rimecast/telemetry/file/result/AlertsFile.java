package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;

/**
 * {@code alerts.csv}: a row for each alert, by time of the raise, machine and condition. Stage, priority, limit and
 * summary are those that it had last before it cleared.
 */
public final class AlertsFile {
    private static final List<String> HEADER = List.of(
            "alert",
            "machine",
            "condition",
            "stage",
            "priority",
            "raised_at",
            "cleared_at",
            "probable_cause",
            "cause_probability",
            "other_causes",
            "cause_origin",
            "limit_expected_at",
            "limit_expected_early",
            "limit_expected_late",
            "summary");

    private static final List<String> NEEDED = List.of("alert", "machine", "condition", "raised_at");
    private static final Columns COLUMNS = new Columns(
            NEEDED, HEADER.stream().filter(name -> !NEEDED.contains(name)).toList());

    private static final Comparator<Development> ORDER = Comparator.comparing(Development::raisedAt)
            .thenComparing(Development::machine)
            .thenComparing(Development::condition)
            .thenComparing(Development::alert);

    private AlertsFile() {}

    /**
     * Writes the alerts.
     *
     * @param findings every revision of every finding, in any order
     */
    public static void write(Path file, Collection<Finding> findings) throws IOException {
        List<Development> sorted =
                Development.of(findings).stream().sorted(ORDER).toList();
        try (CsvOutput out = new CsvOutput(file, HEADER)) {
            for (Development alert : sorted) {
                out.row(cells(alert));
            }
        }
    }

    /**
     * Reads alerts, in the order of the file.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<AlertRow> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, AlertsFile::alert);
    }

    private static AlertRow alert(CsvRow row) {
        row.required("condition");
        row.required("raised_at");
        return new AlertRow(
                row.required("alert"),
                row.optionalId("machine"),
                row.word("condition", Condition.class, Condition::code).orElse(Condition.SLOW_PULL_DOWN),
                row.word("stage", Stage.class, Stage::code).orElse(Stage.EARLY),
                row.word("priority", Priority.class, Priority::code).orElse(Priority.LOW),
                row.instant("raised_at").orElse(Instant.EPOCH),
                row.instant("cleared_at"),
                CauseCells.read(row, "probable_cause", "cause_probability", "other_causes"),
                row.instant("limit_expected_at"),
                row.instant("limit_expected_early"),
                row.instant("limit_expected_late"),
                row.text("summary").orElse(""));
    }

    private static List<String> cells(Development alert) {
        Finding last = alert.last();
        CauseCells causes = CauseCells.of(alert.causes());
        return List.of(
                alert.alert(),
                alert.machine(),
                alert.condition(),
                last.stage().code(),
                last.priority().code(),
                IsoTime.format(alert.raisedAt()),
                Cells.time(alert.clearedAt()),
                causes.cause(),
                causes.probability(),
                causes.others(),
                causes.origin(),
                Cells.time(last.limit().map(LimitExpected::at)),
                Cells.time(last.limit().map(LimitExpected::early)),
                Cells.time(last.limit().map(LimitExpected::late)),
                last.summary());
    }
}
