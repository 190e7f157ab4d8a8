package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.RollupPoint;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.OptionalDouble;
import org.jdbi.v3.core.Handle;

/** Temperatures over wider buckets; a mean is that of the readings, not of the five-minute means. */
final class TemperatureQuery {
    private static final String QUERY = """
            select date_bin(make_interval(secs => :seconds), bucket, timestamptz 'epoch') as start,
                min(evap_min), sum(evap_sum) / nullif(sum(evap_count), 0), max(evap_max),
                min(cond_min), sum(cond_sum) / nullif(sum(cond_count), 0), max(cond_max),
                sum(amb_sum) / nullif(sum(amb_count), 0), sum(water_sum) / nullif(sum(water_count), 0)
            from rollup_5min
            where machine = :machine and bucket >= :from and bucket < :to
            group by start order by start""";

    private TemperatureQuery() {}

    static List<RollupPoint> points(Handle handle, String machine, Instant from, Instant to, Duration bucket) {
        return handle.createQuery(QUERY)
                .bind("seconds", bucket.toSeconds())
                .bind("machine", machine)
                .bind("from", from)
                .bind("to", to)
                .map((row, context) -> new RollupPoint(
                        row.getTimestamp(1).toInstant(),
                        number(row, 2),
                        number(row, 3),
                        number(row, 4),
                        number(row, 5),
                        number(row, 6),
                        number(row, 7),
                        number(row, 8),
                        number(row, 9)))
                .list();
    }

    private static OptionalDouble number(ResultSet row, int column) throws SQLException {
        double value = row.getDouble(column);
        return row.wasNull() ? OptionalDouble.empty() : OptionalDouble.of(value);
    }
}
