package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.Past;
import dev.rimecast.alerts.work.Past.Ended;
import dev.rimecast.alerts.work.Past.Stop;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Cause.Origin;
import dev.rimecast.telemetry.finding.Condition;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;

/** What a span of time holds: cases that ended, machines that stood, and how long they were watched. */
public final class PastQuery {
    private static final List<String> NO_FAULT = Stream.of(Condition.values())
            .filter(condition -> condition.isCare()
                    || condition == Condition.MACHINE_SILENT
                    || condition == Condition.GATEWAY_SILENT)
            .map(Condition::code)
            .toList();

    private PastQuery() {}

    public static Past past(Handle handle, SiteScope sites, Instant from, Instant to) {
        return new Past(
                cases(handle, sites, from, to),
                stops(handle, sites, from, to),
                mended(handle, sites, from, to),
                watched(handle, sites, from, to));
    }

    /**
     * Where nothing was seen and somebody called, whatever comes next counts as the same.
     * A proof begins with the first report of a job, so up to half a day before another one of it.
     */
    private static Set<UUID> mended(Handle handle, SiteScope sites, Instant from, Instant to) {
        Query query = handle.createQuery("""
                select c.id from alert_case c left join alert_case m on m.id = c.merged_into
                where case when c.merged_into is null then c.closed_at else m.closed_at end is not null
                  and (:everySite or c.site = any(:sites))
                  and exists (select from work_report w
                              where w.case_id = c.id and w.happened >= :from and w.happened < :to)
                  and not exists (select from work_report w join proof p on p.machine = w.machine
                                  where w.case_id = c.id and p.verdict = 'not-held'
                                    and p.worked_at between w.happened - interval '12 hours' and w.happened)
                  and not exists (select from work_report w
                                  join alert a on a.machine = w.machine and a.condition <> all(:noFault)
                                  join alert_case later on later.id = a.case_id
                                  where w.case_id = c.id and later.id <> c.id and later.id is distinct from c.merged_into
                                    and later.opened_at > w.happened
                                    and later.opened_at <= w.happened + interval '30 days'
                                    and (not exists (select from alert b where b.case_id = c.id)
                                         or a.condition in (select b.condition from alert b
                                                            where b.case_id = c.id and b.machine = w.machine)))
                """).bindArray("noFault", String.class, NO_FAULT);
        return in(query, sites, from, to).mapTo(UUID.class).set();
    }

    private static List<Ended> cases(Handle handle, SiteScope sites, Instant from, Instant to) {
        Query query = handle.createQuery("""
                select c.id,
                    exists (select from work_report w where w.case_id = c.id),
                    exists (select from visit_need n join visit v on v.id = n.visit
                            where n.kind = 'case' and n.ref = c.id and v.state = 'done'),
                    exists (select from site_event e join alert a on a.machine = e.machine and a.case_id = c.id
                            where e.kind = 'site-answer' and e.happened between c.opened_at and c.closed_at),
                    (select w.origin from work_report w where w.case_id = c.id and w.origin is not null
                     order by w.happened desc, w.id limit 1),
                    (select a.finding #>> '{causes,0,cause}' from alert a
                     where a.case_id = c.id and a.finding #> '{causes,0}' is not null
                     order by (a.finding #>> '{causes,0,probability}')::float8 desc, a.id limit 1)
                from alert_case c
                where c.closed_at >= :from and c.closed_at < :to and c.merged_into is null
                  and (:everySite or c.site = any(:sites))
                  and exists (select from alert a where a.case_id = c.id and a.condition <> all(:noFault))
                order by c.closed_at, c.id""").bindArray("noFault", String.class, NO_FAULT);
        return in(query, sites, from, to).map((row, context) -> ended(row)).list();
    }

    private static Query in(Query query, SiteScope sites, Instant from, Instant to) {
        return query.bind("from", from)
                .bind("to", to)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites());
    }

    private static Ended ended(ResultSet row) throws SQLException {
        return new Ended(
                row.getObject(1, UUID.class),
                row.getBoolean(2),
                row.getBoolean(3),
                row.getBoolean(4),
                Optional.ofNullable(row.getString(5)).map(code -> Origin.valueOf(code.toUpperCase(Locale.ROOT))),
                Optional.ofNullable(row.getString(6)).flatMap(Cause::ofCode).map(Cause::origin));
    }

    /** Without what did not count: the machine was out of service, the site was closed. */
    private static List<Stop> stops(Handle handle, SiteScope sites, Instant from, Instant to) {
        Query query = handle.createQuery("""
                select machine, lower(span), upper(span) from (
                    select a.id, a.machine, unnest(
                        tstzmultirange(tstzrange(
                            greatest(min(r.at), :from), greatest(least(coalesce(a.cleared_at, :to), :to), min(r.at), :from)))
                        - coalesce(
                            (select range_agg(tstzrange(h.since, greatest(h.since, coalesce(h.ended_at, 'infinity')))) from alert_hold h
                             where h.subject = a.machine and coalesce(h.condition, a.condition) = a.condition
                               and h.kind in ('suppressed', 'out-of-service')), '{}')) as span
                    from alert a join finding_revision r on r.alert = a.id and r.finding ->> 'stage' = 'stopped'
                    where a.machine is not null and a.condition <> all(:noFault) and (:everySite or a.site = any(:sites))
                      and a.raised_at < :to and coalesce(a.cleared_at, :to) > :from
                    group by a.id
                    having min(r.at) < :to) stood
                order by 2, id""").bindArray("noFault", String.class, NO_FAULT);
        return in(query, sites, from, to)
                .map((row, context) -> new Stop(
                        row.getString(1),
                        row.getTimestamp(2).toInstant(),
                        row.getTimestamp(3).toInstant()))
                .list();
    }

    /** From the first cycle that is kept of each machine, or the span's beginning. */
    private static double watched(Handle handle, SiteScope sites, Instant from, Instant to) {
        Query query = handle.createQuery("""
                select coalesce(sum(extract(epoch from :to - greatest(:from, first))), 0) from (
                    select (select min(c.freeze_start) from cycle c where c.machine = m.id) as first
                    from machine m where (:everySite or m.site = any(:sites))) seen
                where first < :to""");
        return in(query, sites, from, to).mapTo(Double.class).one();
    }
}
