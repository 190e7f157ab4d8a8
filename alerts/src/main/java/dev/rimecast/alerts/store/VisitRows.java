package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.visits.Visit;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.Planned;
import java.sql.Array;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;

/** Visits and what they are for, as rows. */
final class VisitRows {
    static final String SELECT = "select id, site, day, from_minute, minutes, engineer, state, sequence, note,"
            + " created_at, changed_at, changed_by, agreed, agreed_minutes, asked_machines, asked_reason, asked_job,"
            + " asked_minutes from visit ";

    private VisitRows() {}

    static List<Visit> read(Handle handle, Query query) {
        List<Visit> visits = query.map((row, context) -> visit(row)).list();
        Map<UUID, List<Planned>> needs = needs(handle, visits);
        return visits.stream()
                .map(visit -> withNeeds(visit, needs.getOrDefault(visit.id(), List.of())))
                .toList();
    }

    private static Visit visit(ResultSet row) throws SQLException {
        return new Visit(
                row.getObject(1, UUID.class),
                row.getString(2),
                row.getObject(3, LocalDate.class),
                row.getInt(4),
                row.getInt(5),
                row.getString(6),
                State.ofCode(row.getString(7)).orElseThrow(),
                row.getInt(8),
                row.getString(9),
                List.of(),
                new Visit.Agreed(texts(row.getArray(13)), row.getInt(14)),
                request(row),
                row.getTimestamp(10).toInstant(),
                row.getTimestamp(11).toInstant(),
                row.getString(12));
    }

    private static Optional<VisitRequest> request(ResultSet row) throws SQLException {
        Array machines = row.getArray(15);
        return machines == null
                ? Optional.empty()
                : Optional.of(new VisitRequest(texts(machines), row.getString(16), row.getString(17), row.getInt(18)));
    }

    private static Visit withNeeds(Visit visit, List<Planned> needs) {
        return new Visit(
                visit.id(),
                visit.site(),
                visit.day(),
                visit.fromMinute(),
                visit.minutes(),
                visit.engineer(),
                visit.state(),
                visit.sequence(),
                visit.note(),
                needs,
                visit.agreed(),
                visit.request(),
                visit.createdAt(),
                visit.changedAt(),
                visit.changedBy());
    }

    private record Row(UUID visit, Planned planned) {}

    private static Map<UUID, List<Planned>> needs(Handle handle, List<Visit> visits) {
        Map<UUID, List<Planned>> needs = new HashMap<>();
        Map<UUID, String> sites = new HashMap<>();
        visits.forEach(visit -> sites.put(visit.id(), visit.site()));
        handle.createQuery("""
                        select visit, need, kind, ref, title, why, machines, earliest, latest, minutes, skills, parts,
                            site_can_check, problem, since
                        from visit_need where visit = any(:visits) order by visit, position""")
                .bindArray("visits", UUID.class, sites.keySet())
                .map((row, context) -> need(row, sites))
                .forEach(each -> needs.computeIfAbsent(each.visit(), id -> new ArrayList<>())
                        .add(each.planned()));
        return needs;
    }

    private static Row need(ResultSet row, Map<UUID, String> sites) throws SQLException {
        UUID visit = row.getObject(1, UUID.class);
        Need need = new Need(
                row.getString(2),
                row.getString(3).equals(Need.Kind.CARE.code()) ? Need.Kind.CARE : Need.Kind.CASE,
                row.getObject(4, UUID.class),
                sites.getOrDefault(visit, ""),
                row.getString(5),
                row.getString(6),
                texts(row.getArray(7)),
                row.getObject(8, LocalDate.class),
                Optional.ofNullable(row.getObject(9, LocalDate.class)),
                row.getInt(10),
                Set.copyOf(texts(row.getArray(11))),
                texts(row.getArray(12)),
                row.getBoolean(13),
                row.getObject(15, LocalDateTime.class));
        return new Row(visit, new Planned(need, row.getString(14)));
    }

    private static List<String> texts(Array array) throws SQLException {
        return List.of((String[]) array.getArray());
    }

    /** Writes all, and takes off first what goes from one visit to another. */
    static void write(Handle handle, List<Visit> visits) {
        for (Visit visit : visits) {
            upsert(handle, visit);
            handle.createUpdate("delete from visit_need where visit = :visit")
                    .bind("visit", visit.id())
                    .execute();
        }
        for (Visit visit : visits) {
            for (int position = 0; position < visit.needs().size(); position++) {
                insert(handle, visit, position);
            }
        }
    }

    private static void upsert(Handle handle, Visit visit) {
        handle.createUpdate("""
                insert into visit (id, site, day, from_minute, minutes, engineer, state, sequence, note, created_at,
                    changed_at, changed_by, agreed, agreed_minutes, asked_machines, asked_reason, asked_job, asked_minutes)
                values (:id, :site, :day, :from, :minutes, :engineer, :state, :sequence, :note, :created, :changed, :by,
                    :agreed, :agreedMinutes, case when :isAsked then :askedMachines end, :askedReason, :askedJob, :askedMinutes)
                on conflict (id) do update set day = excluded.day, from_minute = excluded.from_minute,
                    minutes = excluded.minutes, engineer = excluded.engineer, state = excluded.state,
                    sequence = excluded.sequence, note = excluded.note, changed_at = excluded.changed_at,
                    changed_by = excluded.changed_by, agreed = excluded.agreed,
                    agreed_minutes = excluded.agreed_minutes""")
                .bind("id", visit.id())
                .bind("site", visit.site())
                .bind("day", visit.day())
                .bind("from", visit.fromMinute())
                .bind("minutes", visit.minutes())
                .bind("engineer", visit.engineer())
                .bind("state", visit.state().code())
                .bind("sequence", visit.sequence())
                .bind("note", visit.note())
                .bind("created", visit.createdAt())
                .bind("changed", visit.changedAt())
                .bind("by", visit.changedBy())
                .bindArray("agreed", String.class, visit.agreed().needs())
                .bind("agreedMinutes", visit.agreed().minutes())
                .bind("isAsked", visit.request().isPresent())
                .bindArray(
                        "askedMachines",
                        String.class,
                        visit.request().map(VisitRequest::machines).orElse(List.of()))
                .bind("askedReason", visit.request().map(VisitRequest::reason))
                .bind("askedJob", visit.request().map(VisitRequest::job))
                .bind("askedMinutes", visit.request().map(VisitRequest::minutes))
                .execute();
    }

    private static void insert(Handle handle, Visit visit, int position) {
        Planned planned = visit.needs().get(position);
        Need need = planned.need();
        handle.createUpdate("""
                insert into visit_need (visit, position, need, open, kind, ref, title, why, machines, earliest, latest,
                    minutes, skills, parts, site_can_check, problem, since)
                values (:visit, :position, :need, :open, :kind, :ref, :title, :why, :machines, :earliest, :latest,
                    :minutes, :skills, :parts, :check, :problem, :since)""")
                .bind("visit", visit.id())
                .bind("position", position)
                .bind("need", need.id())
                .bind("open", visit.state().isOpen())
                .bind("kind", need.kind().code())
                .bind("ref", need.ref())
                .bind("title", need.title())
                .bind("why", need.why())
                .bindArray("machines", String.class, need.machines())
                .bind("earliest", need.earliest())
                .bind("latest", need.latest())
                .bind("minutes", need.minutes())
                .bindArray(
                        "skills", String.class, need.skills().stream().sorted().toList())
                .bindArray("parts", String.class, need.parts())
                .bind("check", need.siteCanCheck())
                .bind("problem", planned.problem())
                .bind("since", need.since())
                .execute();
    }
}
