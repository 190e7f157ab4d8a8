package dev.rimecast.alerts.store;

import dev.rimecast.telemetry.machine.Channel;
import java.sql.Array;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import org.jdbi.v3.core.Handle;
import org.jspecify.annotations.Nullable;

/** Rows to and from table {@code latest_row}, many in one statement. */
final class LatestRows {
    /** A machine's times and numbers are cut out of all machines' in one array: arrays of arrays are slower to read. */
    private static final String UPSERT = """
            insert into latest_row as l (machine, newest, phase, status, times, numbers, version)
            select m, to_timestamp(n / 1000.0), p, s, a.times[(i - 1) * a.width + 1 : i * a.width],
                a.numbers[(i - 1) * a.width + 1 : i * a.width], v
            from (select ?::bigint[] as times, ?::float8[] as numbers, ?::int as width) a,
                unnest(?::text[], ?::bigint[], ?::text[], ?::text[], ?::bigint[]) with ordinality as r (m, n, p, s, v, i)
            order by i
            on conflict (machine) do update set newest = excluded.newest, phase = excluded.phase,
                status = excluded.status, times = excluded.times, numbers = excluded.numbers,
                version = excluded.version
            where l.version = excluded.version - 1""";

    private static final String READ = """
            select machine, phase, status, times, numbers, version, (extract(epoch from newest) * 1000)::bigint
            from latest_row where machine = any(?)""";

    private LatestRows() {}

    /**
     * Writes each row as the next version of what was read.
     *
     * @param rows in the order of machines, in which rows are written, so that two writers never wait for each other in a ring
     * @return whether every row was still the version that was read; if not, rows of others are as they were
     */
    static boolean write(Handle handle, Map<String, LatestRow> rows) {
        int n = rows.size();
        int width = Channel.count();
        long[] times = new long[n * width];
        double[] numbers = new double[n * width];
        String[] machines = new String[n];
        Long[] newest = new Long[n];
        @Nullable String[] phases = new @Nullable String[n];
        @Nullable String[] statuses = new @Nullable String[n];
        Long[] versions = new Long[n];
        int i = 0;
        for (Map.Entry<String, LatestRow> each : rows.entrySet()) {
            LatestRow row = each.getValue();
            row.version++;
            System.arraycopy(row.times, 0, times, i * width, width);
            System.arraycopy(row.numbers, 0, numbers, i * width, width);
            machines[i] = each.getKey();
            newest[i] = row.newest;
            phases[i] = row.phase;
            statuses[i] = row.status;
            versions[i] = row.version;
            i++;
        }
        Connection connection = handle.getConnection();
        try (PreparedStatement statement = connection.prepareStatement(UPSERT)) {
            statement.setObject(1, times);
            statement.setObject(2, numbers);
            statement.setInt(3, width);
            statement.setArray(4, connection.createArrayOf("text", machines));
            statement.setArray(5, connection.createArrayOf("bigint", newest));
            statement.setArray(6, connection.createArrayOf("text", phases));
            statement.setArray(7, connection.createArrayOf("text", statuses));
            statement.setArray(8, connection.createArrayOf("bigint", versions));
            return statement.executeUpdate() == n;
        } catch (SQLException e) {
            throw new DatabaseException(e);
        }
    }

    static Map<String, LatestRow> read(Handle handle, Collection<String> machines) {
        Map<String, LatestRow> found = new HashMap<>();
        Connection connection = handle.getConnection();
        try (PreparedStatement statement = connection.prepareStatement(READ)) {
            statement.setArray(1, connection.createArrayOf("text", machines.toArray(String[]::new)));
            try (ResultSet each = statement.executeQuery()) {
                while (each.next()) {
                    found.put(each.getString(1), row(each));
                }
            }
            return found;
        } catch (SQLException e) {
            throw new DatabaseException(e);
        }
    }

    private static LatestRow row(ResultSet each) throws SQLException {
        LatestRow row = new LatestRow();
        row.phase = each.getString(2);
        row.status = each.getString(3);
        Long[] times = values(each.getArray(4));
        Double[] numbers = values(each.getArray(5));
        for (int place = 0; place < times.length; place++) {
            row.times[place] = times[place];
            row.numbers[place] = numbers[place];
        }
        row.version = each.getLong(6);
        row.newest = each.getLong(7);
        return row;
    }

    @SuppressWarnings("unchecked")
    private static <T> T[] values(Array array) throws SQLException {
        return (T[]) array.getArray();
    }

    /** Keeps others from writing these machines until the transaction ends. */
    static void lock(Handle handle, Collection<String> machines) {
        handle.createQuery("select machine from latest_row where machine = any(:machines) order by machine for update")
                .bindArray("machines", String.class, machines)
                .mapTo(String.class)
                .list();
    }
}
