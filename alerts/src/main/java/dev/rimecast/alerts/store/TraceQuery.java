package dev.rimecast.alerts.store;

import dev.rimecast.alerts.view.TracePoint;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import org.jdbi.v3.core.Handle;

/** The curves within five-minute buckets, one after the other. */
final class TraceQuery {
    private static final String QUERY = """
            select bucket, trace from rollup_5min
            where machine = :machine and bucket > :before and bucket < :to and trace is not null
            order by bucket""";

    private TraceQuery() {}

    private record Stored(Instant start, byte[] trace) {}

    static List<TracePoint> points(Handle handle, String machine, Instant from, Instant to) {
        List<TracePoint> points = new ArrayList<>();
        handle.createQuery(QUERY)
                .bind("machine", machine)
                .bind("before", from.minusMillis(Bucket.MILLIS))
                .bind("to", to)
                .map((row, context) -> new Stored(row.getTimestamp(1).toInstant(), row.getBytes(2)))
                .forEach(stored -> add(stored, from, to, points));
        return points;
    }

    private static void add(Stored stored, Instant from, Instant to, List<TracePoint> points) {
        for (int step = 0; step < Bucket.TRACE_STEPS; step++) {
            Instant at = stored.start().plusSeconds((long) step * Bucket.TRACE_SECONDS);
            OptionalDouble evaporator = Bucket.traced(stored.trace(), Bucket.EVAPORATOR, step);
            OptionalDouble condenser = Bucket.traced(stored.trace(), Bucket.CONDENSER, step);
            if (!at.isBefore(from) && at.isBefore(to) && (evaporator.isPresent() || condenser.isPresent())) {
                points.add(new TracePoint(at, evaporator, condenser));
            }
        }
    }
}
