package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.finding.Cause;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * An analyst's own marks: {@code machine,from,to,mark,cause}. {@code mark} is {@code real} (something was wrong), {@code not}
 * (nothing was) or {@code unknown}; {@code cause} may be empty.
 */
public final class MarksFile {
    private static final Columns COLUMNS = new Columns(List.of("machine", "from", "to", "mark"), List.of("cause"));

    private MarksFile() {}

    /**
     * Reads marks, in the order of the file.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<Label> read(Path file) throws IOException {
        return CsvTable.read(file, COLUMNS, MarksFile::mark);
    }

    private static Label mark(CsvRow row) {
        row.required("from");
        row.required("to");
        row.required("mark");
        Label.Verdict verdict = row.word(
                        "mark", Label.Verdict.class, each -> each.name().toLowerCase(Locale.ROOT))
                .orElse(Label.Verdict.UNKNOWN);
        Optional<Cause> cause = row.word("cause", Cause.class, Cause::code);
        if (cause.isPresent() && verdict != Label.Verdict.REAL) {
            row.problem("cause", "belongs to a mark that is real");
        }
        Instant from = row.instant("from").orElse(Instant.EPOCH);
        Instant to = row.instant("to").orElse(Instant.MAX);
        if (!from.isBefore(to)) {
            row.problem("to", "must be after from");
        }
        return new Label(
                Optional.of(row.id("machine")), Optional.empty(), from, to, to, verdict, cause, Label.Source.MARK);
    }
}
