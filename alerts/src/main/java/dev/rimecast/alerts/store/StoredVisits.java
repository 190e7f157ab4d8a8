package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.visits.Visit;
import dev.rimecast.alerts.visits.VisitStore;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.transaction.TransactionIsolationLevel;

/** Visits in the database. Whoever changes one holds the lock of all: an engineer's day belongs to many sites. */
public final class StoredVisits implements VisitStore {
    private static final long LOCK = 0x5649534954L;
    private static final LocalDate FIRST = LocalDate.of(1970, 1, 1);
    private static final LocalDate LAST = LocalDate.of(9999, 12, 31);
    /** At most so many are listed. */
    private static final int MOST = 5_000;

    private static final String BY_TIME = "order by day, from_minute, site, id";
    private static final String NEWEST_FIRST = "order by day desc, from_minute desc, site desc, id desc";

    private final Database database;

    public StoredVisits(Database database) {
        this.database = database;
    }

    @Override
    public <T> T change(Function<Session, T> work) {
        return database.jdbi().inTransaction(handle -> {
            handle.createQuery("select pg_advisory_xact_lock(:lock)")
                    .bind("lock", LOCK)
                    .map((row, context) -> 0)
                    .list();
            return work.apply(new StoredSession(handle));
        });
    }

    @Override
    public <T> T look(Function<Session, T> work) {
        return database.jdbi().inTransaction(TransactionIsolationLevel.REPEATABLE_READ, handle -> {
            handle.execute("set transaction read only");
            return work.apply(new StoredSession(handle));
        });
    }

    @Override
    public List<Visit> list(SiteScope sites, Filter filter) {
        boolean isOpenOnly = !filter.states().isEmpty() && Filter.OPEN.states().containsAll(filter.states());
        List<Visit> visits = database.jdbi()
                .inTransaction(handle -> VisitRows.read(
                        handle,
                        handle.createQuery(
                                        VisitRows.SELECT + """
                                where (:everySite or site = any(:sites)) and day between :from and :to
                                    and (:site = '' or site = :site) and (:engineer = '' or engineer = :engineer)
                                    and (:everyState or state = any(:states))
                                """ + (isOpenOnly ? BY_TIME : NEWEST_FIRST) + " limit :most")
                                .bind("most", MOST)
                                .bind("everySite", sites.isEvery())
                                .bindArray("sites", String.class, sites.sites())
                                .bind("from", filter.from().orElse(FIRST))
                                .bind("to", filter.to().orElse(LAST))
                                .bind("site", filter.site().orElse(""))
                                .bind("engineer", filter.engineer().orElse(""))
                                .bind("everyState", filter.states().isEmpty())
                                .bindArray(
                                        "states",
                                        String.class,
                                        filter.states().stream()
                                                .map(State::code)
                                                .toList())));
        List<Visit> byTime = new ArrayList<>(visits);
        if (!isOpenOnly) {
            Collections.reverse(byTime);
        }
        return byTime;
    }

    @Override
    public Optional<Visit> find(UUID id) {
        return database.jdbi().inTransaction(handle -> one(handle, id));
    }

    private static Optional<Visit> one(Handle handle, UUID id) {
        return VisitRows.read(
                        handle,
                        handle.createQuery(VisitRows.SELECT + "where id = :id").bind("id", id))
                .stream()
                .findFirst();
    }

    @Override
    public Map<UUID, List<AuditLine>> history(Collection<UUID> visits) {
        Map<UUID, List<AuditLine>> lines = new HashMap<>();
        database.jdbi()
                .useHandle(handle -> handle.createQuery(
                                "select visit, at, who, what, why from visit_audit where visit = any(:visits) order by id")
                        .bindArray("visits", UUID.class, visits)
                        .map((row, context) -> lines.computeIfAbsent(
                                        row.getObject(1, UUID.class), id -> new ArrayList<>())
                                .add(new AuditLine(
                                        row.getTimestamp(2).toInstant(),
                                        row.getString(3),
                                        row.getString(4),
                                        row.getString(5))))
                        .list());
        return lines;
    }

    /** Whether there is, or was, such a visit to a site. */
    public static boolean isTo(Handle handle, UUID id, String site) {
        return handle.createQuery("select exists (select from visit where id = :id and site = :site)")
                .bind("id", id)
                .bind("site", site)
                .mapTo(Boolean.class)
                .one();
    }

    /** Changes whenever something that planning looks at may have: alerts, cases, sites, what was reported, visits. */
    public String mark() {
        return database.jdbi()
                .withHandle(
                        handle -> handle.createQuery("""
                        select concat_ws('|',
                            (select concat(count(*), ':', sum(version), ':', sum(extract(epoch from act_by)))
                                from alert where state <> 'normal'),
                            (select concat(count(*), ':', sum(version)) from alert_case where closed_at is null),
                            (select concat(count(*), ':', sum(hashtext(encode(record, 'base64')))) from site),
                            (select max(id) from site_event),
                            (select concat(count(*), ':', sum(sequence)) from visit))""").mapTo(String.class).one());
    }

    private record StoredSession(Handle handle) implements Session {
        @Override
        public List<Visit> open() {
            return VisitRows.read(
                    handle,
                    handle.createQuery(VisitRows.SELECT + "where state in ('proposed', 'accepted') order by id"));
        }

        @Override
        public Optional<Visit> find(UUID id) {
            return one(handle, id);
        }

        @Override
        public List<Visit> doneSince(Instant from) {
            return VisitRows.read(
                    handle,
                    handle.createQuery(VisitRows.SELECT + "where state = 'done' and changed_at >= :from order by id")
                            .bind("from", from));
        }

        @Override
        public void write(List<Written> visits) {
            VisitRows.write(handle, visits.stream().map(Written::visit).toList());
            for (Written written : visits) {
                written.line()
                        .ifPresent(line -> handle.createUpdate("""
                                insert into visit_audit (visit, at, who, what, why)
                                values (:visit, :at, :who, :what, :why)""")
                                .bind("visit", written.visit().id())
                                .bind("at", line.at())
                                .bind("who", line.who())
                                .bind("what", line.what())
                                .bind("why", line.why())
                                .execute());
            }
        }

        @Override
        public Map<UUID, Reported> worked(Collection<UUID> visits) {
            return handle.createQuery("""
                            select distinct on (visit) visit, who, entered_by, happened from work_report
                            where visit = any(:visits) order by visit, happened, id""")
                    .bindArray("visits", UUID.class, visits)
                    .map((row, context) -> Map.entry(
                            row.getObject(1, UUID.class),
                            new Reported(
                                    row.getString(2).isBlank() ? row.getString(3) : row.getString(2),
                                    row.getTimestamp(4).toInstant())))
                    .collect(Collectors.toMap(Map.Entry::getKey, Map.Entry::getValue));
        }

        @Override
        public Optional<Reported> reported(String site, Collection<String> machines, Instant from) {
            return handle.createQuery("""
                            select e.who, e.happened from site_event e where e.site = :site and e.kind = 'visit'
                                and e.happened >= :from and (e.machine is null or e.machine = any(:machines))
                                and not exists (select from work_report w where w.site = e.site
                                    and w.machine = e.machine and w.happened = e.happened and w.visit is not null)
                            order by e.happened, e.id limit 1""")
                    .bind("site", site)
                    .bind("from", from)
                    .bindArray("machines", String.class, machines)
                    .map((row, context) -> new Reported(
                            row.getString(1).isBlank() ? "site" : row.getString(1),
                            row.getTimestamp(2).toInstant()))
                    .findOne();
        }
    }
}
