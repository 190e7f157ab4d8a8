package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Matter;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.store.Database;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;

/**
 * Takes events of cases in: one that is announced begins a matter. The events go in the transaction in which the matters
 * come, so each event ends as a matter, as part of one, or as nothing to tell.
 *
 * <p>A case that is open again after its end was told begins another matter. Its alerts count and nobody knows.
 */
final class Intake {
    private static final int BATCH = 500;

    private final Database database;
    private final Checkpoint checkpoint;

    Intake(Database database, Checkpoint checkpoint) {
        this.database = database;
        this.checkpoint = checkpoint;
    }

    private record Event(
            long sequence, UUID id, String kind, String site, Optional<UUID> caseId, Instant at, boolean announced) {}

    /** Returns whether anything came. */
    boolean run() {
        return database.jdbi().inTransaction(this::take) > 0;
    }

    private int take(Handle handle) {
        List<Event> events = handle.createQuery("""
                select sequence, id, kind, site, case_id, at, announced from alert_event
                order by sequence limit :limit for update skip locked""")
                .bind("limit", BATCH)
                .map((row, context) -> new Event(
                        row.getLong(1),
                        row.getObject(2, UUID.class),
                        row.getString(3),
                        row.getString(4),
                        Optional.ofNullable(row.getObject(5, UUID.class)),
                        Optional.ofNullable(row.getTimestamp(6))
                                .map(Timestamp::toInstant)
                                .orElseThrow(),
                        row.getBoolean(7)))
                .list();
        if (events.isEmpty()) {
            return 0;
        }
        checkpoint.passed(Step.EVENTS_READ);
        for (Event event : events) {
            event.caseId().filter(id -> event.kind().startsWith("case.")).ifPresent(id -> take(handle, event, id));
        }
        checkpoint.passed(Step.MATTERS_WRITTEN);
        handle.createUpdate("delete from alert_event where sequence = any(:taken)")
                .bindArray(
                        "taken",
                        Long.class,
                        events.stream().map(Event::sequence).toList())
                .execute();
        checkpoint.passed(Step.EVENTS_GONE);
        return events.size();
    }

    private static void take(Handle handle, Event event, UUID caseId) {
        boolean isEnd = event.kind().equals("case.closed") || event.kind().equals("case.merged");
        if (!isEnd && (event.announced() || isBackAfterItsEnd(handle, caseId))) {
            MatterStore.begin(handle, Matter.idOf(event.id()), caseId, event.site(), event.at());
        }
    }

    private static boolean isBackAfterItsEnd(Handle handle, UUID caseId) {
        return handle.createQuery("""
                select exists (select 1 from alert_case c where c.id = :case and c.announced and c.closed_at is null
                    and exists (select 1 from notice_matter m where m.case_id = c.id and m.is_over)
                    and not exists (select 1 from notice_matter m where m.case_id = c.id and not m.is_over))""").bind("case", caseId).mapTo(Boolean.class).one();
    }
}
