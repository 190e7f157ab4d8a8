package dev.rimecast.alerts.life;

import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;

/** How bad it is: how far it has come, and how soon somebody must act. */
public record Severity(Stage stage, Priority priority) {

    /** Whether anything has got worse since {@code seen}: a later stage or a more urgent priority. */
    public boolean isWorseThan(Severity seen) {
        return stage.compareTo(seen.stage) > 0 || priority.compareTo(seen.priority) < 0;
    }
}
