package dev.rimecast.app.bench;

import dev.rimecast.alerts.view.Mark;
import dev.rimecast.dashboard.json.MarkJson;
import dev.rimecast.history.backtest.Decided;
import dev.rimecast.history.backtest.Labels;
import dev.rimecast.telemetry.file.csv.CsvOutput;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/** What is known of the past: visits and calls, and marks by way of their file, so that the file's rules hold for both. */
final class MarkedPast {
    private MarkedPast() {}

    static Labels labels(Decided decided, List<Mark> marks) {
        try {
            Path file = Files.createTempFile("rimecast-marks-", ".csv");
            try {
                write(file, marks);
                return Labels.of(decided, Optional.empty(), List.of(file));
            } finally {
                Files.delete(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static void write(Path file, List<Mark> marks) throws IOException {
        try (Writer writer = Files.newBufferedWriter(file);
                CsvOutput out = new CsvOutput(writer, MarkJson.COLUMNS)) {
            for (Mark mark : marks) {
                out.row(MarkJson.row(mark));
            }
        }
    }
}
