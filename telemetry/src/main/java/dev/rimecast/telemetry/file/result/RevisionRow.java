package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One line of {@code alert_history.csv}.
 *
 * @param causes most probable first; empty where nothing was said
 */
public record RevisionRow(
        String alert,
        int revision,
        Instant at,
        Stage stage,
        Priority priority,
        List<NamedCause> causes,
        Optional<Instant> limitExpectedAt) {
    public RevisionRow {
        causes = List.copyOf(causes);
    }
}
