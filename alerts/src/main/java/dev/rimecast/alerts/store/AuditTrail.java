package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Who did what to an alert, when and why; the database refuses to change a line. */
final class AuditTrail {
    /** Who writes where no person did. */
    static final String DETECTION = "detection";

    private AuditTrail() {}

    static void append(Handle handle, UUID alert, Instant at, String who, String what, String why) {
        handle.createUpdate("insert into alert_audit (alert, at, who, what, why)"
                        + " values (:alert, :at, :who, :what, :why)")
                .bind("alert", alert)
                .bind("at", at)
                .bind("who", who)
                .bind("what", what)
                .bind("why", why)
                .execute();
    }

    /** Lines of each alert in the order of writing; an alert without lines is not in the map. */
    static Map<UUID, List<AuditLine>> of(Handle handle, Collection<UUID> alerts) {
        Map<UUID, List<AuditLine>> lines = new HashMap<>();
        if (alerts.isEmpty()) {
            return lines;
        }
        handle.createQuery("select alert, at, who, what, why from alert_audit where alert = any(:alerts) order by id")
                .bindArray("alerts", UUID.class, alerts)
                .map((row, context) -> {
                    AuditLine line = new AuditLine(
                            row.getTimestamp(2).toInstant(), row.getString(3), row.getString(4), row.getString(5));
                    return lines.computeIfAbsent(row.getObject(1, UUID.class), id -> new ArrayList<>())
                            .add(line);
                })
                .list();
        return lines;
    }
}
