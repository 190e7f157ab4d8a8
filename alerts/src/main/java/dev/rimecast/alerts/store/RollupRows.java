package dev.rimecast.alerts.store;

import java.sql.Array;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Buckets to and from table {@code rollup_5min}, many in one statement. */
final class RollupRows {
    private static final String UPSERT = """
            insert into rollup_5min (machine, bucket, evap_count, evap_min, evap_sum, evap_max, cond_count, cond_min,
                cond_sum, cond_max, amb_count, amb_sum, water_count, water_sum, seen, trace)
            select m, to_timestamp(b / 1000.0), ec, case when ec > 0 then emin end, es, case when ec > 0 then emax end,
                cc, case when cc > 0 then cmin end, cs, case when cc > 0 then cmax end, ac, asum, wc, ws, s, tr
            from unnest(?::text[], ?::bigint[], ?::int[], ?::real[], ?::float8[], ?::real[], ?::int[], ?::real[],
                ?::float8[], ?::real[], ?::int[], ?::float8[], ?::int[], ?::float8[], ?::bytea[], ?::bytea[])
                as t (m, b, ec, emin, es, emax, cc, cmin, cs, cmax, ac, asum, wc, ws, s, tr)
            on conflict (machine, bucket) do update set
                evap_count = excluded.evap_count, evap_min = excluded.evap_min, evap_sum = excluded.evap_sum,
                evap_max = excluded.evap_max, cond_count = excluded.cond_count, cond_min = excluded.cond_min,
                cond_sum = excluded.cond_sum, cond_max = excluded.cond_max, amb_count = excluded.amb_count,
                amb_sum = excluded.amb_sum, water_count = excluded.water_count, water_sum = excluded.water_sum,
                seen = excluded.seen, trace = excluded.trace""";

    private static final String READ = """
            select r.*, (extract(epoch from r.bucket) * 1000)::bigint as start
            from unnest(?::text[], ?::bigint[]) as t (m, b)
            join rollup_5min r on r.machine = t.m and r.bucket = to_timestamp(t.b / 1000.0)""";

    private RollupRows() {}

    /** Which bucket. */
    record Key(String machine, long startMillis) {
        /** The order in which rows are written, so that two writers never wait for each other in a ring. */
        static final Comparator<Key> ORDER = Comparator.comparing(Key::machine).thenComparingLong(Key::startMillis);
    }

    static void write(Handle handle, Collection<Bucket> buckets) throws SQLException {
        Bucket[] rows = buckets.toArray(Bucket[]::new);
        int n = rows.length;
        String[] machines = new String[n];
        Long[] starts = new Long[n];
        byte[][] seen = new byte[n][];
        byte @Nullable [][] trace = new byte @Nullable [n][];
        for (int i = 0; i < n; i++) {
            machines[i] = rows[i].machine;
            starts[i] = rows[i].startMillis;
            seen[i] = rows[i].seen();
            trace[i] = rows[i].trace();
        }
        Connection connection = handle.getConnection();
        List<Array> arrays = new ArrayList<>();
        arrays.add(connection.createArrayOf("text", machines));
        arrays.add(connection.createArrayOf("bigint", starts));
        for (int channel : new int[] {Bucket.EVAPORATOR, Bucket.CONDENSER}) {
            arrays.add(connection.createArrayOf("integer", counts(rows, channel)));
            arrays.add(connection.createArrayOf("float4", floats(rows, row -> row.min[channel])));
            arrays.add(connection.createArrayOf("float8", doubles(rows, row -> row.sum[channel])));
            arrays.add(connection.createArrayOf("float4", floats(rows, row -> row.max[channel])));
        }
        for (int channel : new int[] {Bucket.AMBIENT, Bucket.WATER}) {
            arrays.add(connection.createArrayOf("integer", counts(rows, channel)));
            arrays.add(connection.createArrayOf("float8", doubles(rows, row -> row.sum[channel])));
        }
        arrays.add(connection.createArrayOf("bytea", seen));
        arrays.add(connection.createArrayOf("bytea", trace));
        try (PreparedStatement statement = connection.prepareStatement(UPSERT)) {
            for (int i = 0; i < arrays.size(); i++) {
                statement.setArray(i + 1, arrays.get(i));
            }
            statement.executeUpdate();
        }
    }

    static List<Bucket> read(Handle handle, Collection<Key> keys) throws SQLException {
        Connection connection = handle.getConnection();
        List<Bucket> found = new ArrayList<>();
        try (PreparedStatement statement = connection.prepareStatement(READ)) {
            statement.setArray(
                    1,
                    connection.createArrayOf(
                            "text", keys.stream().map(Key::machine).toArray(String[]::new)));
            statement.setArray(
                    2,
                    connection.createArrayOf(
                            "bigint", keys.stream().map(Key::startMillis).toArray(Long[]::new)));
            try (ResultSet row = statement.executeQuery()) {
                while (row.next()) {
                    found.add(bucket(row));
                }
            }
        }
        return found;
    }

    /** Start of the newest bucket of each machine that has one. */
    static Map<String, Long> newest(Handle handle, Collection<String> machines) {
        Map<String, Long> newest = new HashMap<>();
        handle.createQuery("select m, start from unnest(:machines) as t (m), lateral (select"
                        + " (extract(epoch from max(bucket)) * 1000)::bigint as start from rollup_5min"
                        + " where machine = m) as r where start is not null")
                .bindArray("machines", String.class, machines)
                .map((row, context) -> Map.entry(row.getString(1), row.getLong(2)))
                .forEach(entry -> newest.put(entry.getKey(), entry.getValue()));
        return newest;
    }

    private static Bucket bucket(ResultSet row) throws SQLException {
        Bucket bucket = new Bucket(row.getString("machine"), row.getLong("start"));
        restore(bucket, Bucket.EVAPORATOR, row.getInt("evap_count"), row.getDouble("evap_sum"));
        restore(bucket, Bucket.CONDENSER, row.getInt("cond_count"), row.getDouble("cond_sum"));
        restore(bucket, Bucket.AMBIENT, row.getInt("amb_count"), row.getDouble("amb_sum"));
        restore(bucket, Bucket.WATER, row.getInt("water_count"), row.getDouble("water_sum"));
        restoreEnds(bucket, Bucket.EVAPORATOR, row.getFloat("evap_min"), row.getFloat("evap_max"));
        restoreEnds(bucket, Bucket.CONDENSER, row.getFloat("cond_min"), row.getFloat("cond_max"));
        bucket.restoreSeen(row.getBytes("seen"));
        bucket.restoreTrace(row.getBytes("trace"));
        return bucket;
    }

    private static void restore(Bucket bucket, int channel, int count, double sum) {
        bucket.count[channel] = count;
        bucket.sum[channel] = sum;
    }

    private static void restoreEnds(Bucket bucket, int channel, float min, float max) {
        if (bucket.count[channel] > 0) {
            bucket.min[channel] = min;
            bucket.max[channel] = max;
        }
    }

    private static Integer[] counts(Bucket[] rows, int channel) {
        Integer[] result = new Integer[rows.length];
        for (int i = 0; i < rows.length; i++) {
            result[i] = rows[i].count[channel];
        }
        return result;
    }

    private static Double[] doubles(Bucket[] rows, ToDoubleFunction<Bucket> field) {
        Double[] result = new Double[rows.length];
        for (int i = 0; i < rows.length; i++) {
            result[i] = field.applyAsDouble(rows[i]);
        }
        return result;
    }

    private static Float[] floats(Bucket[] rows, ToDoubleFunction<Bucket> field) {
        Float[] result = new Float[rows.length];
        for (int i = 0; i < rows.length; i++) {
            result[i] = (float) field.applyAsDouble(rows[i]);
        }
        return result;
    }
}
