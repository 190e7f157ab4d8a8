package dev.rimecast.telemetry.file.result;

import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One line of {@code alerts.csv}.
 *
 * @param machine empty for an alert about a gateway or a site, which the summary names
 * @param causes the last diagnosis, most probable first; empty where nothing was said
 */
public record AlertRow(
        String alert,
        Optional<String> machine,
        Condition condition,
        Stage stage,
        Priority priority,
        Instant raisedAt,
        Optional<Instant> clearedAt,
        List<NamedCause> causes,
        Optional<Instant> limitExpectedAt,
        Optional<Instant> limitExpectedEarly,
        Optional<Instant> limitExpectedLate,
        String summary) {
    public AlertRow {
        causes = List.copyOf(causes);
    }
}
