package dev.rimecast.history.backtest;

import dev.rimecast.telemetry.file.result.AlertRow;
import dev.rimecast.telemetry.file.result.AlertsFile;
import dev.rimecast.telemetry.finding.Finding;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** Alerts as their file has them, which also says what is shown of each. */
public final class AlertRows {
    private AlertRows() {}

    /** @param findings every revision */
    public static List<AlertRow> of(List<Finding> findings) {
        if (findings.isEmpty()) {
            return List.of();
        }
        try {
            Path file = Files.createTempFile("rimecast-alerts-", ".csv");
            try {
                AlertsFile.write(file, findings);
                return AlertsFile.read(file);
            } finally {
                Files.delete(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
