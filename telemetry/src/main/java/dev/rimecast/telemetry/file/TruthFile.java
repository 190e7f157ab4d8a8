package dev.rimecast.telemetry.file;

import dev.rimecast.telemetry.file.csv.Cells;
import dev.rimecast.telemetry.file.csv.Columns;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.csv.CsvRow;
import dev.rimecast.telemetry.file.csv.CsvTable;
import dev.rimecast.telemetry.finding.Cause;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import java.util.Optional;

/** {@code truth.csv}. A healthy machine has the cause {@code none}. */
public final class TruthFile {
    static final Columns COLUMNS = new Columns(List.of("machine", "cause"), List.of("onset", "stopped", "deadline"));

    /** Where it comes from outcomes of work, it also says whether the work has held; that is no part of a truth. */
    private static final Columns READ =
            new Columns(List.of("machine", "cause"), List.of("onset", "stopped", "deadline", "proof"));

    private static final String HEALTHY = "none";

    private TruthFile() {}

    /**
     * Reads the truth, in the order of the file.
     *
     * @throws IOException if the file can't be read at all
     * @throws dev.rimecast.telemetry.file.csv.InputProblems if anything in it is wrong, everything at once
     */
    public static List<TruthRow> read(Path file) throws IOException {
        return CsvTable.read(file, READ, TruthFile::truth);
    }

    private static TruthRow truth(CsvRow row) {
        String cause = row.required("cause");
        return new TruthRow(
                row.id("machine"),
                cause.equals(HEALTHY) ? Optional.empty() : row.word("cause", Cause.class, Cause::code),
                row.instant("onset"),
                row.instant("stopped"),
                row.instant("deadline"));
    }

    /** Writes the truth in the order given. */
    public static void write(Path file, Collection<TruthRow> truth) throws IOException {
        try (CsvOutput out = new CsvOutput(file, COLUMNS.all())) {
            for (TruthRow row : truth) {
                out.row(cells(row));
            }
        }
    }

    /** The header, for whoever writes it elsewhere than in a file. */
    public static List<String> columns() {
        return COLUMNS.all();
    }

    /** A row in the order of the columns. */
    public static List<String> cells(TruthRow row) {
        return List.of(
                row.machine(),
                row.cause().map(Cause::code).orElse(HEALTHY),
                Cells.time(row.onset()),
                Cells.time(row.stopped()),
                Cells.time(row.deadline()));
    }
}
