package dev.rimecast.alerts.store;

import dev.rimecast.alerts.life.AlertLife;
import dev.rimecast.alerts.life.Episode;
import dev.rimecast.alerts.life.Severity;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.FindingJson;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** A row of table {@code alert}. */
record StoredAlert(
        Finding finding,
        String subject,
        AlertLife life,
        long version,
        Instant severitySince,
        Optional<Instant> clearedAt,
        Optional<Instant> actBy,
        Optional<UUID> supersededBy,
        Optional<String> acknowledgedBy,
        Optional<Instant> acknowledgedAt,
        Optional<String> assignee,
        boolean announced,
        Optional<UUID> caseId,
        Priority priority,
        String priorityWhy,
        Optional<Instant> iceOutAt) {

    static final String COLUMNS = "a.finding, a.subject, a.state, a.stage, a.priority, a.seen_stage, a.seen_priority,"
            + " a.version, a.severity_since, a.cleared_at, a.act_by, a.superseded_by, a.acknowledged_by,"
            + " a.acknowledged_at, a.assignee, a.announced, a.case_id,"
            + " a.priority_why, a.ice_out_at";

    static StoredAlert of(ResultSet row) throws SQLException {
        return new StoredAlert(
                FindingJson.decode(row.getString("finding").getBytes(StandardCharsets.UTF_8)),
                row.getString("subject"),
                life(row),
                row.getLong("version"),
                row.getTimestamp("severity_since").toInstant(),
                instant(row, "cleared_at"),
                instant(row, "act_by"),
                Optional.ofNullable(row.getObject("superseded_by", UUID.class)),
                Optional.ofNullable(row.getString("acknowledged_by")),
                instant(row, "acknowledged_at"),
                Optional.ofNullable(row.getString("assignee")),
                row.getBoolean("announced"),
                Optional.ofNullable(row.getObject("case_id", UUID.class)),
                coded(Priority.ofCode(row.getString("priority")), "priority"),
                row.getString("priority_why"),
                instant(row, "ice_out_at"));
    }

    Episode episode() {
        return new Episode(
                finding.id(), subject, finding.condition(), finding.raisedAt(), finding.revision(), life, supersededBy);
    }

    static Optional<StoredAlert> read(Handle handle, UUID id) {
        return handle.createQuery("select " + COLUMNS + " from alert a where a.id = :id")
                .bind("id", id)
                .map((row, context) -> of(row))
                .findOne();
    }

    /** The row of an alert, locked until the transaction ends. */
    static Optional<StoredAlert> locked(Handle handle, UUID id) {
        return handle.createQuery("select " + COLUMNS + " from alert a where a.id = :id for update")
                .bind("id", id)
                .map((row, context) -> of(row))
                .findOne();
    }

    private static AlertLife life(ResultSet row) throws SQLException {
        AlertState state = coded(AlertState.ofCode(row.getString("state")), "state");
        Severity now = severity(row, "stage", "priority");
        return switch (state) {
            case NORMAL -> new AlertLife.Normal();
            case UNACKNOWLEDGED -> new AlertLife.Unacknowledged(now);
            case ACKNOWLEDGED -> new AlertLife.Acknowledged(now, severity(row, "seen_stage", "seen_priority"));
            case RETURNED_UNACKNOWLEDGED -> new AlertLife.ReturnedUnacknowledged();
            case LATCHED_UNACKNOWLEDGED -> new AlertLife.LatchedUnacknowledged();
            case LATCHED_ACKNOWLEDGED -> new AlertLife.LatchedAcknowledged();
            case SHELVED -> new AlertLife.Shelved(now);
            case SUPPRESSED_BY_DESIGN ->
                new AlertLife.Suppressed(
                        now,
                        row.getString("seen_stage") == null
                                ? Optional.empty()
                                : Optional.of(severity(row, "seen_stage", "seen_priority")));
            case OUT_OF_SERVICE -> new AlertLife.OutOfService(now);
        };
    }

    /** What was seen, where the state keeps it. */
    static Optional<Severity> seen(AlertLife life) {
        return life instanceof AlertLife.Present present ? present.seen() : Optional.empty();
    }

    private static Severity severity(ResultSet row, String stage, String priority) throws SQLException {
        return new Severity(
                coded(Stage.ofCode(row.getString(stage)), stage),
                coded(Priority.ofCode(row.getString(priority)), priority));
    }

    private static <T> T coded(Optional<T> value, String column) {
        return value.orElseThrow(
                () -> new IllegalStateException("alert." + column + " holds a word of another version"));
    }

    private static Optional<Instant> instant(ResultSet row, String column) throws SQLException {
        @Nullable Timestamp value = row.getTimestamp(column);
        return Optional.ofNullable(value).map(Timestamp::toInstant);
    }
}
