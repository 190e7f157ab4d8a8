package dev.rimecast.alerts.store;

import static java.util.stream.Collectors.groupingBy;
import static java.util.stream.Collectors.mapping;
import static java.util.stream.Collectors.toList;

import dev.rimecast.alerts.cases.CommonCause;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.rules.RuleBooks;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.ListPlace;
import dev.rimecast.alerts.view.SiteScope;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.Collection;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.statement.Query;
import org.jspecify.annotations.Nullable;

/** Cases as the pages show them. */
final class CaseViews {
    private static final String SELECT = """
            select c.id, c.site, coalesce(s.name, c.site), c.subject, c.common, c.place, c.cause, c.opened_at,
                c.closed_at, c.spoken_for_by, c.merged_into
            from alert_case c left join site s on s.id = c.site\s""";

    private static final Comparator<AlertView> OPEN_FIRST = Comparator.comparing((AlertView alert) ->
                    alert.clearedAt().isPresent() || alert.state().isHeld())
            .thenComparing(FleetQuery.LEADING);

    private final ViewAssembly assembly;
    private final BooksInForce books;

    CaseViews(ViewAssembly assembly, BooksInForce books) {
        this.assembly = assembly;
        this.books = books;
    }

    /** Open ones first, then the newest. */
    List<CaseView> list(Handle handle, SiteScope sites, boolean openOnly, Optional<ListPlace> after, int limit) {
        String where = "where (:everySite or c.site = any(:sites))"
                + (openOnly ? " and c.closed_at is null" : "")
                + (after.isPresent() ? AlertListQuery.behind("c.closed_at is not null", "c.opened_at", "c.id") : "");
        Query query = handle.createQuery(
                        SELECT + where + " order by c.closed_at is not null, c.opened_at desc, c.id limit :limit")
                .bind("limit", limit)
                .bind("everySite", sites.isEvery())
                .bindArray("sites", String.class, sites.sites());
        after.ifPresent(place -> AlertListQuery.bind(query, place));
        return views(handle, query.map((row, context) -> Row.of(row)).list());
    }

    Optional<CaseView> one(Handle handle, UUID id) {
        List<Row> rows = handle.createQuery(SELECT + "where c.id = :id")
                .bind("id", id)
                .map((row, context) -> Row.of(row))
                .list();
        return views(handle, rows).stream().findFirst();
    }

    private record Row(
            UUID id,
            String site,
            String siteName,
            Optional<String> subject,
            Optional<String> common,
            Optional<String> place,
            Optional<String> cause,
            Instant openedAt,
            Optional<Instant> closedAt,
            Optional<UUID> spokenForBy,
            Optional<UUID> mergedInto) {
        static Row of(ResultSet row) throws SQLException {
            @Nullable Timestamp closed = row.getTimestamp(9);
            return new Row(
                    row.getObject(1, UUID.class),
                    row.getString(2),
                    row.getString(3),
                    Optional.ofNullable(row.getString(4)),
                    Optional.ofNullable(row.getString(5)),
                    Optional.ofNullable(row.getString(6)),
                    Optional.ofNullable(row.getString(7)),
                    row.getTimestamp(8).toInstant(),
                    Optional.ofNullable(closed).map(Timestamp::toInstant),
                    Optional.ofNullable(row.getObject(10, UUID.class)),
                    Optional.ofNullable(row.getObject(11, UUID.class)));
        }
    }

    private List<CaseView> views(Handle handle, List<Row> rows) {
        List<UUID> ids = rows.stream().map(Row::id).toList();
        Map<UUID, List<AlertView>> alerts = alerts(handle, ids);
        Map<UUID, List<CaseView.Call>> calls = calls(handle, ids);
        Map<UUID, List<AuditLine>> audit = audit(handle, ids);
        return rows.stream()
                .map(row -> view(
                        row,
                        alerts.getOrDefault(row.id(), List.of()),
                        calls.getOrDefault(row.id(), List.of()),
                        audit.getOrDefault(row.id(), List.of())))
                .toList();
    }

    private CaseView view(Row row, List<AlertView> alerts, List<CaseView.Call> calls, List<AuditLine> audit) {
        int machines = (int) alerts.stream()
                .flatMap(alert -> alert.finding().machine().stream())
                .distinct()
                .count();
        return new CaseView(
                row.id(),
                row.site(),
                row.siteName(),
                row.common().flatMap(this::common).map(common -> common.words(machines)),
                row.subject(),
                row.common(),
                row.place(),
                row.cause(),
                row.openedAt(),
                row.closedAt(),
                row.spokenForBy(),
                row.mergedInto(),
                alerts.stream().sorted(OPEN_FIRST).toList(),
                calls,
                audit);
    }

    /** A case that was opened by a rule which is there no longer keeps the words of the standard. */
    private Optional<CommonCause> common(String name) {
        return books.cases().common(name).or(() -> RuleBooks.STANDARD.cases().common(name));
    }

    private Map<UUID, List<AlertView>> alerts(Handle handle, Collection<UUID> cases) {
        List<ViewAssembly.Named> rows = handle.createQuery(ViewAssembly.SELECT + "where a.case_id = any(:cases)")
                .bindArray("cases", UUID.class, cases)
                .map((row, context) -> new ViewAssembly.Named(StoredAlert.of(row), row.getString("site_name")))
                .list();
        return assembly.views(handle, rows).stream()
                .collect(groupingBy(alert -> alert.caseId().orElseThrow()));
    }

    private record Of<T>(UUID id, T value) {}

    private static Map<UUID, List<CaseView.Call>> calls(Handle handle, Collection<UUID> cases) {
        return handle
                .createQuery("select case_id, happened, machine, detail, who, job from site_event"
                        + " where case_id = any(:cases) order by happened, id")
                .bindArray("cases", UUID.class, cases)
                .map((row, context) -> new Of<>(
                        row.getObject(1, UUID.class),
                        new CaseView.Call(
                                row.getTimestamp(2).toInstant(),
                                Optional.ofNullable(row.getString(3)),
                                row.getString(4),
                                row.getString(5),
                                row.getString(6))))
                .stream()
                .collect(groupingBy(Of::id, mapping(Of::value, toList())));
    }

    private static Map<UUID, List<AuditLine>> audit(Handle handle, Collection<UUID> cases) {
        return handle
                .createQuery(
                        "select case_id, at, who, what, why from case_audit where case_id = any(:cases) order by id")
                .bindArray("cases", UUID.class, cases)
                .map((row, context) -> new Of<>(
                        row.getObject(1, UUID.class),
                        new AuditLine(
                                row.getTimestamp(2).toInstant(), row.getString(3), row.getString(4), row.getString(5))))
                .stream()
                .collect(groupingBy(Of::id, mapping(Of::value, toList())));
    }
}
