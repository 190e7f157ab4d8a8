package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.AlertFilter;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Priority;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;

/** Alerts, what is open first, then the newest, from a place in that list on. */
final class AlertListQuery {
    private AlertListQuery() {}

    static List<ViewAssembly.Named> rows(
            Handle handle, SiteScope sites, AlertFilter filter, Optional<ListPlace> after, int limit) {
        StringBuilder where = new StringBuilder("where (:everySite or a.site = any(:sites))");
        if (filter.openOnly()) {
            where.append(" and a.state <> 'normal'");
        }
        filter.site().ifPresent(ignored -> where.append(" and a.site = :site"));
        filter.machine().ifPresent(ignored -> where.append(" and a.machine = :machine"));
        if (!filter.conditions().isEmpty()) {
            where.append(" and a.condition = any(:conditions)");
        }
        if (!filter.priorities().isEmpty()) {
            where.append(" and a.priority = any(:priorities)");
        }
        after.ifPresent(place -> where.append(behind("a.state = 'normal'", "a.raised_at", "a.id")));
        Query query = handle.createQuery(
                ViewAssembly.SELECT + where + " order by a.state = 'normal', a.raised_at desc, a.id limit :limit");
        query.bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites())
                .bindArray(
                        "conditions",
                        String.class,
                        filter.conditions().stream().map(Condition::code).toList())
                .bindArray(
                        "priorities",
                        String.class,
                        filter.priorities().stream().map(Priority::code).toList())
                .bind("limit", limit);
        filter.site().ifPresent(site -> query.bind("site", site));
        filter.machine().ifPresent(machine -> query.bind("machine", machine));
        after.ifPresent(place -> bind(query, place));
        return query.map((row, context) -> new ViewAssembly.Named(StoredAlert.of(row), row.getString("site_name")))
                .list();
    }

    /** The condition that an entry comes after a place, in a list by whether it is over, then the newest, then the id. */
    static String behind(String over, String at, String id) {
        return " and ((" + over + ") > :placeOver or ((" + over + ") = :placeOver and (" + at + " < :placeAt or (" + at
                + " = :placeAt and " + id + " > :placeId))))";
    }

    static void bind(Query query, ListPlace place) {
        query.bind("placeOver", place.isOver()).bind("placeAt", place.at()).bind("placeId", place.id());
    }
}
