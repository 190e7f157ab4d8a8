package dev.rimecast.app.backup;

import java.io.IOException;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import org.postgresql.PGConnection;

/** The database as one transaction sees it, which was begun when this was made. */
final class DatabaseExport {
    private static final String HISTORY = "flyway_schema_history";

    private final Connection connection;

    /** @param connection for this alone */
    DatabaseExport(Connection connection) throws SQLException {
        this.connection = connection;
        connection.setAutoCommit(false);
        connection.setTransactionIsolation(Connection.TRANSACTION_REPEATABLE_READ);
        connection.setReadOnly(true);
        // The first statement is what fixes the moment.
        schema();
    }

    /** Version of the schema. */
    String schema() throws SQLException {
        List<String> found = column("select version from " + HISTORY
                + " where success and version is not null order by installed_rank desc limit 1");
        if (found.isEmpty()) {
            throw new BackupException("the database has no schema of ours");
        }
        return found.get(0);
    }

    /** Those that others refer to before those that do. */
    List<String> tablesInOrder() throws SQLException {
        return inOrder(connection);
    }

    static List<String> inOrder(Connection connection) throws SQLException {
        List<String> left = column(
                connection,
                "select relname from pg_class where relkind = 'r' and relnamespace = 'public'::regnamespace"
                        + " and relname <> '" + HISTORY + "' order by relname");
        List<String[]> needs = new ArrayList<>();
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(
                        "select a.relname, b.relname from pg_constraint c join pg_class a on a.oid = c.conrelid"
                                + " join pg_class b on b.oid = c.confrelid where c.contype = 'f' and a.oid <> b.oid")) {
            while (row.next()) {
                needs.add(new String[] {row.getString(1), row.getString(2)});
            }
        }
        List<String> ordered = new ArrayList<>();
        while (!left.isEmpty()) {
            List<String> free = left.stream()
                    .filter(table -> needs.stream().noneMatch(n -> n[0].equals(table) && !ordered.contains(n[1])))
                    .toList();
            if (free.isEmpty()) {
                throw new BackupException("tables refer to each other in a circle: " + left);
            }
            ordered.addAll(free);
            left.removeAll(free);
        }
        return ordered;
    }

    Manifest.Table write(ArchiveWriter archive, String table) throws SQLException, IOException {
        List<String> columns = column("select attname from pg_attribute where attrelid = 'public." + table
                + "'::regclass and attnum > 0 and not attisdropped and attgenerated = '' order by attnum");
        long[] rows = {0};
        Manifest.Table shape = new Manifest.Table(table, columns, 0);
        archive.entry(shape.entry(), out -> {
            try {
                rows[0] = connection.unwrap(PGConnection.class).getCopyAPI().copyOut(copyOut(shape), out);
            } catch (SQLException e) {
                throw new IOException("table " + table + " can't be read: " + e.getMessage(), e);
            }
        });
        return new Manifest.Table(table, columns, rows[0]);
    }

    static String copyOut(Manifest.Table table) {
        return "copy " + table.name() + " (" + String.join(", ", quoted(table.columns())) + ") to stdout";
    }

    static List<String> quoted(List<String> columns) {
        return columns.stream().map(name -> '"' + name + '"').toList();
    }

    List<Manifest.Sequence> sequences() throws SQLException {
        List<Manifest.Sequence> sequences = new ArrayList<>();
        for (String name : column("select sequencename from pg_sequences where schemaname = 'public' order by 1")) {
            try (Statement statement = connection.createStatement();
                    ResultSet row = statement.executeQuery("select last_value, is_called from \"" + name + "\"")) {
                row.next();
                sequences.add(new Manifest.Sequence(name, row.getLong(1), row.getBoolean(2)));
            }
        }
        return sequences;
    }

    private List<String> column(String query) throws SQLException {
        return column(connection, query);
    }

    private static List<String> column(Connection connection, String query) throws SQLException {
        List<String> values = new ArrayList<>();
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(query)) {
            while (row.next()) {
                values.add(row.getString(1));
            }
        }
        return values;
    }
}
