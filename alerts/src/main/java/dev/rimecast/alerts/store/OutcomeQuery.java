package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.FoundCause;
import dev.rimecast.alerts.work.MissedCall;
import dev.rimecast.telemetry.file.TruthRow;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.proof.Verdict;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** What really was wrong, as far as people found out; and what nobody was warned of. */
public final class OutcomeQuery {
    private static final List<String> NO_WARNING = Stream.of(Condition.values())
            .filter(condition -> condition.isCare() || isSilence(condition))
            .map(Condition::code)
            .toList();
    private static final List<String> SILENCE = Stream.of(Condition.values())
            .filter(OutcomeQuery::isSilence)
            .map(Condition::code)
            .toList();

    private OutcomeQuery() {}

    private static boolean isSilence(Condition condition) {
        return condition == Condition.MACHINE_SILENT || condition == Condition.GATEWAY_SILENT;
    }

    /**
     * A row for each problem whose cause was found: of a case the last report that names one, and each visit whose cause
     * was reported without a report of work. Stopped is when an alert of the case first said that the machine had stopped.
     * When it began and until when a warning was of use, nobody knows. Whether the work has held is what its proof says; a
     * proof begins with the first report of a job, so up to half a day before another one of it.
     */
    public static List<FoundCause> outcomes(Handle handle, SiteScope sites) {
        return handle.createQuery("""
                with found as (
                    select distinct on (w.machine, coalesce(w.case_id, w.id)) w.machine, w.found, w.happened, w.case_id
                    from work_report w
                    where w.found = any(:causes) and (:everySite or w.site = any(:sites))
                    order by w.machine, coalesce(w.case_id, w.id), w.happened desc, w.id
                ), told as (
                    select e.machine, e.detail, e.happened, cast(null as uuid)
                    from site_event e
                    where e.kind = 'visit' and e.machine is not null and e.detail = any(:causes)
                      and (:everySite or e.site = any(:sites))
                      and not exists (
                          select from work_report w where w.machine = e.machine and w.happened = e.happened)
                )
                select o.machine, o.found, (
                    select min(r.at) from alert a join finding_revision r on r.alert = a.id
                    where a.machine = o.machine and a.case_id = o.case_id and r.at <= o.happened
                      and r.finding ->> 'stage' = 'stopped'), (
                    select p.verdict from proof p
                    where p.machine = o.machine and p.worked_at between o.happened - interval '12 hours' and o.happened
                    order by p.worked_at desc limit 1)
                from (select * from found union all select * from told) o
                order by o.happened, o.machine, o.found""")
                .bindArray(
                        "causes",
                        String.class,
                        Stream.of(Cause.values()).map(Cause::code).toList())
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .map((row, context) -> truth(row))
                .list();
    }

    private static FoundCause truth(ResultSet row) throws SQLException {
        @Nullable Timestamp stopped = row.getTimestamp(3);
        return new FoundCause(
                new TruthRow(
                        row.getString(1),
                        Cause.ofCode(row.getString(2)),
                        Optional.empty(),
                        Optional.ofNullable(stopped).map(Timestamp::toInstant),
                        Optional.empty()),
                Optional.ofNullable(row.getString(4)).flatMap(Verdict::ofCode));
    }

    /** Oldest first. */
    public static List<MissedCall> missedCalls(Handle handle, SiteScope sites, Instant from, Instant to) {
        return handle.createQuery("""
                select e.id, e.happened, e.site, e.machine, e.detail, exists (
                    select from alert a where a.site = e.site and a.condition = any(:silence)
                      and (e.machine is null or a.machine is null or a.machine = e.machine)
                      and a.raised_at <= e.happened
                      and (a.cleared_at is null or a.cleared_at >= e.happened - cast(:back as interval))
                ), e.who, e.job, e.case_id
                from site_event e
                where e.kind = 'call' and (:everySite or e.site = any(:sites))
                  and e.happened >= :from and e.happened < :to
                  and not exists (
                    select from alert a where a.site = e.site and a.machine is not null
                      and a.condition <> all(:noWarning)
                      and (e.machine is null or a.machine = e.machine)
                      and a.raised_at <= e.happened
                      and (a.cleared_at is null or a.cleared_at >= e.happened - cast(:back as interval)))
                order by e.happened, e.id""")
                .bindArray("silence", String.class, SILENCE)
                .bindArray("noWarning", String.class, NO_WARNING)
                .bind("back", Duration.ofHours(MissedCall.LOOKS_BACK_HOURS).toString())
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .bind("from", from)
                .bind("to", to)
                .map((row, context) -> new MissedCall(
                        row.getLong(1),
                        row.getTimestamp(2).toInstant(),
                        row.getString(3),
                        Optional.ofNullable(row.getString(4)),
                        row.getString(5),
                        row.getBoolean(6),
                        row.getString(7),
                        row.getString(8),
                        Optional.ofNullable(row.getObject(9, UUID.class))))
                .list();
    }
}
