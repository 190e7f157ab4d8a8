package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.IsoTime;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.LimitExpected;
import java.io.IOException;
import java.nio.file.Path;
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
