package dev.rimecast.alerts.notice.outbox;

import dev.rimecast.alerts.notice.Matter;
import dev.rimecast.alerts.notice.NoticeBook;
import dev.rimecast.alerts.notice.Situation;
import dev.rimecast.alerts.notice.Trouble;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;

/** How the cases stand that a matter speaks for. */
final class SituationQuery {
    /** The announced case, those that its notice speaks for, and those that took its alerts over. */
    private static final String GROUP = """
        with recursive spoken (id) as (
            select cast(:case as uuid)
            union
            select c.id from spoken s join alert_case known on known.id = s.id join alert_case c
                on c.spoken_for_by = known.id or c.announced_with = known.id or c.id = known.merged_into)
        """;

    private static final Set<Condition> SILENCES = Set.of(Condition.MACHINE_SILENT, Condition.GATEWAY_SILENT);

    private final NoticeBook book;
    private final BooksInForce books;

    SituationQuery(NoticeBook book, BooksInForce books) {
        this.book = book;
        this.books = books;
    }

    private record Cases(boolean isOver, boolean isPlace, boolean isTakenOver) {}

    private record Alert(
            AlertState state,
            Priority priority,
            Stage stage,
            Condition condition,
            Optional<Instant> actBy,
            Optional<Instant> iceOutAt,
            Optional<Instant> unseenSince,
            boolean isWorse) {}

    Situation of(Handle handle, Matter matter, Instant now) {
        Cases cases = cases(handle, matter);
        List<Alert> alerts = alerts(handle, matter);
        List<Alert> active =
                alerts.stream().filter(alert -> alert.state().isActive()).toList();
        boolean unknownIce = isIceUnknown(handle, matter.site());
        return new Situation(
                cases.isOver(),
                !cases.isTakenOver(),
                !active.isEmpty(),
                active.stream().anyMatch(alert -> alert.state() == AlertState.UNACKNOWLEDGED),
                active.stream()
                        .flatMap(alert -> alert.unseenSince().stream())
                        .min(Comparator.naturalOrder())
                        // A gateway's clock may be fast.
                        .filter(since -> !since.isAfter(now)),
                active.stream().anyMatch(Alert::isWorse),
                active.stream()
                        .map(Alert::priority)
                        .min(Comparator.naturalOrder())
                        .orElse(Priority.LOW),
                active.stream().flatMap(alert -> alert.actBy().stream()).min(Comparator.naturalOrder()),
                active.stream().anyMatch(alert -> isIceAtRisk(alert, unknownIce, now)),
                trouble(cases, active.isEmpty() ? alerts : active));
    }

    /** Where nobody can tell how long the ice lasts, a machine that stands still may be what empties the bin. */
    private boolean isIceAtRisk(Alert alert, boolean unknownIce, Instant now) {
        boolean runsOut = alert.iceOutAt()
                .filter(at -> !at.isAfter(now.plus(book.iceAtRisk())))
                .isPresent();
        return runsOut
                || (unknownIce
                        && alert.stage() == Stage.STOPPED
                        && books.priority().makesLessIce(alert.condition()));
    }

    private static Trouble trouble(Cases cases, List<Alert> alerts) {
        boolean isSilence = !alerts.isEmpty()
                && Stream.of(alerts).flatMap(List::stream).allMatch(alert -> SILENCES.contains(alert.condition()));
        return isSilence ? Trouble.SILENCE : cases.isPlace() ? Trouble.PLACE : Trouble.MACHINE;
    }

    private static Cases cases(Handle handle, Matter matter) {
        return handle.createQuery(GROUP + """
            select bool_and(c.closed_at is not null), bool_or(c.common is not null and c.closed_at is null),
                exists (select 1 from alert_case own join notice_matter other on other.case_id = own.merged_into
                    where own.id = :case and not other.is_over)
            from spoken s join alert_case c on c.id = s.id\
            """)
                .bind("case", matter.caseId())
                .map((row, context) -> new Cases(row.getBoolean(1), row.getBoolean(2), row.getBoolean(3)))
                .one();
    }

    private static List<Alert> alerts(Handle handle, Matter matter) {
        return handle.createQuery(GROUP + """
            select a.state, a.priority, a.stage, a.condition, a.act_by, a.ice_out_at, unseen.at,
                coalesce(unseen.what <> 'counts again', false)
            from spoken s join alert a on a.case_id = s.id
            left join lateral (select u.at, u.what from alert_audit u
                where a.state = 'unacknowledged' and u.alert = a.id
                    and u.what in ('raised', 'raised again', 'counts again')
                    and u.id > coalesce((select max(seen.id) from alert_audit seen where seen.alert = a.id
                        and (seen.what in ('acknowledged', 'shelved', 'suppressed by design', 'out of service',
                            'counts again, seen before') or seen.what like 'raised while %')), 0)
                order by u.id limit 1) unseen on true
            where a.announced\
            """)
                .bind("case", matter.caseId())
                .map((row, context) -> new Alert(
                        AlertState.ofCode(row.getString(1)).orElseThrow(),
                        Priority.ofCode(row.getString(2)).orElseThrow(),
                        Stage.ofCode(row.getString(3)).orElseThrow(),
                        Condition.ofCode(row.getString(4)).orElseThrow(),
                        Optional.ofNullable(row.getTimestamp(5)).map(Timestamp::toInstant),
                        Optional.ofNullable(row.getTimestamp(6)).map(Timestamp::toInstant),
                        Optional.ofNullable(row.getTimestamp(7)).map(Timestamp::toInstant),
                        row.getBoolean(8)))
                .list();
    }

    private static boolean isIceUnknown(Handle handle, String site) {
        return handle.createQuery("select exists (select 1 from ice_outlook where site = :site and ice = 'not-known')")
                .bind("site", site)
                .mapTo(Boolean.class)
                .one();
    }

    /** The case that speaks for a matter now: its own, or the one that took it over. */
    static UUID shown(Handle handle, UUID caseId) {
        return handle.createQuery("""
            with recursive heir (id, depth) as (
                select cast(:case as uuid), 0
                union all
                select c.merged_into, h.depth + 1 from heir h join alert_case c on c.id = h.id
                where c.merged_into is not null and c.merged_into <> h.id and h.depth < 20)
            select id from heir order by depth desc limit 1\
            """).bind("case", caseId).mapTo(UUID.class).one();
    }
}
