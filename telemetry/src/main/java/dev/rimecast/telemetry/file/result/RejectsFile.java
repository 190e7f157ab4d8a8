package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.file.csv.CsvOutput;
import dev.rimecast.telemetry.file.log.RejectedLine;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;

/** {@code rejects.csv}: what was not understood, by file and line; lines of one place stay in the order given. */
public final class RejectsFile {
    private static final List<String> HEADER = List.of("file", "line", "column", "reason");

    private static final Comparator<RejectedLine> ORDER =
            Comparator.comparing(RejectedLine::file).thenComparingLong(RejectedLine::line);

    private RejectsFile() {}

    public static void write(Path file, Collection<RejectedLine> rejects) throws IOException {
        List<RejectedLine> sorted = rejects.stream().sorted(ORDER).toList();
        try (CsvOutput out = new CsvOutput(file, HEADER)) {
            for (RejectedLine reject : sorted) {
                out.row(List.of(reject.file(), Long.toString(reject.line()), reject.column(), reject.reason()));
            }
        }
    }
}
