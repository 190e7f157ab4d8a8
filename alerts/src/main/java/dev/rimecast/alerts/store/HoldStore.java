package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.Hold;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** What keeps alerts from counting: shelved, suppressed by design, out of service. */
final class HoldStore {
    private static final String SELECT =
            "select id, kind, subject, site, condition, who, why, permitted_by, since, until from alert_hold ";

    private static final Comparator<Hold> STRONGEST_FIRST = Comparator.comparing(Hold::kind);

    private HoldStore() {}

    /** What holds a condition of a subject, strongest first. */
    static List<Hold> of(Handle handle, String subject, String condition) {
        return handle
                .createQuery(SELECT + "where ended_at is null and subject = :subject"
                        + " and (condition is null or condition = :condition)")
                .bind("subject", subject)
                .bind("condition", condition)
                .map((row, context) -> hold(row))
                .stream()
                .sorted(STRONGEST_FIRST)
                .toList();
    }

    /** What holds any condition of these subjects, strongest first. */
    static List<Hold> of(Handle handle, Collection<String> subjects) {
        return handle
                .createQuery(SELECT + "where ended_at is null and subject = any(:subjects)")
                .bindArray("subjects", String.class, subjects)
                .map((row, context) -> hold(row))
                .stream()
                .sorted(STRONGEST_FIRST)
                .toList();
    }

    static List<Hold> all(Handle handle) {
        return handle.createQuery(SELECT + "where ended_at is null order by since, id")
                .map((row, context) -> hold(row))
                .list();
    }

    /** Also one that has ended. */
    static Optional<Hold> one(Handle handle, UUID id) {
        return handle.createQuery(SELECT + "where id = :id")
                .bind("id", id)
                .map((row, context) -> hold(row))
                .findOne();
    }

    static Optional<Hold> open(Handle handle, UUID id) {
        return handle.createQuery(SELECT + "where ended_at is null and id = :id for update")
                .bind("id", id)
                .map((row, context) -> hold(row))
                .findOne();
    }

    /** Shelves whose time is up. */
    static List<Hold> due(Handle handle, Instant now) {
        return handle.createQuery(SELECT + "where ended_at is null and until <= :now order by until, id")
                .bind("now", now)
                .map((row, context) -> hold(row))
                .list();
    }

    static void begin(Handle handle, Hold hold) {
        handle.createUpdate("""
                insert into alert_hold (id, kind, subject, site, condition, who, why, permitted_by, since, until)
                values (:id, :kind, :subject, :site, :condition, :who, :why, :permittedBy, :since, :until)""")
                .bind("id", hold.id())
                .bind("kind", hold.kind().code())
                .bind("subject", hold.subject())
                .bind("site", hold.site())
                .bind("condition", hold.condition())
                .bind("who", hold.who())
                .bind("why", hold.why())
                .bind("permittedBy", hold.permittedBy())
                .bind("since", hold.since())
                .bind("until", hold.until())
                .execute();
    }

    static void end(Handle handle, UUID id, Instant at, String who, String why) {
        handle.createUpdate(
                        "update alert_hold set ended_at = :at, ended_by = :who, ended_why = :why where id = :id and ended_at is null")
                .bind("id", id)
                .bind("at", at)
                .bind("who", who)
                .bind("why", why)
                .execute();
    }

    private static Hold hold(ResultSet row) throws SQLException {
        @Nullable Timestamp until = row.getTimestamp("until");
        return new Hold(
                row.getObject("id", UUID.class),
                Hold.Kind.ofCode(row.getString("kind")).orElseThrow(),
                row.getString("subject"),
                row.getString("site"),
                Optional.ofNullable(row.getString("condition")),
                row.getString("who"),
                row.getString("why"),
                Optional.ofNullable(row.getString("permitted_by")),
                row.getTimestamp("since").toInstant(),
                Optional.ofNullable(until).map(Timestamp::toInstant));
    }
}
