package dev.rimecast.alerts.store;

import dev.rimecast.alerts.cases.CaseKey;
import dev.rimecast.alerts.cases.OpenCase;
import dev.rimecast.telemetry.finding.Cause;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Cases as far as the rules need them. */
final class CaseQuery {
    private static final String SELECT = """
            select c.id, c.site, c.subject, c.common, c.place, c.cause, c.latest_at,
                array(select a.machine from alert a where a.case_id = c.id and a.machine is not null
                    union select e.machine from site_event e where e.case_id = c.id and e.machine is not null)
            from alert_case c\s""";

    private CaseQuery() {}

    static List<OpenCase> open(Handle handle, String site) {
        return handle.createQuery(SELECT + "where c.site = :site and c.closed_at is null order by c.id")
                .bind("site", site)
                .map((row, context) -> openCase(row))
                .list();
    }

    static Optional<OpenCase> find(Handle handle, UUID id) {
        return handle.createQuery(SELECT + "where c.id = :id")
                .bind("id", id)
                .map((row, context) -> openCase(row))
                .findOne();
    }

    static Optional<UUID> caseOf(Handle handle, UUID alert) {
        return handle.createQuery("select case_id from alert where id = :id and case_id is not null")
                .bind("id", alert)
                .mapTo(UUID.class)
                .findOne();
    }

    private static OpenCase openCase(ResultSet row) throws SQLException {
        @Nullable String subject = row.getString(3);
        CaseKey key = subject == null
                ? new CaseKey.OfPlace(row.getString(4), row.getString(2), row.getString(5))
                : new CaseKey.OfSubject(subject);
        Set<String> machines =
                Arrays.stream((String[]) row.getArray(8).getArray()).collect(Collectors.toUnmodifiableSet());
        return new OpenCase(
                row.getObject(1, UUID.class),
                key,
                Optional.ofNullable(row.getString(6)).flatMap(Cause::ofCode),
                row.getTimestamp(7).toInstant(),
                machines);
    }
}
