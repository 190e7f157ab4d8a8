package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Matter;
import dev.rimecast.telemetry.finding.Priority;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/** Table {@code notice_matter}. */
final class MatterStore {
    private static final String SELECT =
            "select id, case_id, site, since, telling, told_at, told_priority, told_ice, is_over from notice_matter ";

    private MatterStore() {}

    /** Writes a matter, unless its event was taken in before or its case has one. */
    static void begin(Handle handle, UUID id, UUID caseId, String site, Instant since) {
        handle.createUpdate("insert into notice_matter (id, case_id, site, since) values (:id, :case, :site, :since)"
                        + " on conflict do nothing")
                .bind("id", id)
                .bind("case", caseId)
                .bind("site", site)
                .bind("since", since)
                .execute();
    }

    static List<UUID> live(Handle handle) {
        return handle.createQuery("select id from notice_matter where not is_over order by since, id")
                .mapTo(UUID.class)
                .list();
    }

    static Optional<Matter> find(Handle handle, UUID id) {
        return handle.createQuery(SELECT + "where id = :id")
                .bind("id", id)
                .map((row, context) -> of(row))
                .findOne();
    }

    static Optional<Matter> locked(Handle handle, UUID id) {
        return handle.createQuery(SELECT + "where id = :id for update")
                .bind("id", id)
                .map((row, context) -> of(row))
                .findOne();
    }

    static void write(Handle handle, Matter matter) {
        handle.createUpdate("""
                update notice_matter set telling = :telling, told_at = :toldAt, told_priority = :priority,
                    told_ice = :ice, is_over = :over where id = :id""")
                .bind("id", matter.id())
                .bind("telling", matter.telling())
                .bind("toldAt", matter.told().map(Matter.Told::at))
                .bind("priority", matter.told().map(told -> told.priority().code()))
                .bind("ice", matter.told().map(Matter.Told::iceAtRisk).orElse(false))
                .bind("over", matter.isOver())
                .execute();
    }

    /** When the site last got a notice that needs action. */
    static Optional<Instant> siteToldAt(Handle handle, String site) {
        return handle.createQuery("select max(told_at) from notice_matter where site = :site")
                .bind("site", site)
                .map((row, context) -> instant(row, 1))
                .one();
    }

    private static Matter of(ResultSet row) throws SQLException {
        Optional<Instant> toldAt = instant(row, 6);
        Optional<Priority> priority = Optional.ofNullable(row.getString(7)).flatMap(Priority::ofCode);
        boolean ice = row.getBoolean(8);
        return new Matter(
                row.getObject(1, UUID.class),
                row.getObject(2, UUID.class),
                row.getString(3),
                row.getTimestamp(4).toInstant(),
                row.getInt(5),
                toldAt.map(at -> new Matter.Told(at, priority.orElseThrow(), ice)),
                row.getBoolean(9));
    }

    private static Optional<Instant> instant(ResultSet row, int column) throws SQLException {
        return Optional.ofNullable(row.getTimestamp(column)).map(Timestamp::toInstant);
    }
}
