package dev.rimecast.history.duck;

import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.table.Table;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.Properties;
import java.util.stream.Collectors;
import org.duckdb.DuckDBConnection;

/**
 * A database in memory that lives as long as a piece of work. It loads no extensions from anywhere, and has so much memory
 * and so many threads as it is given; what does not fit goes to files that end with it.
 */
public final class Duck implements AutoCloseable {
    static {
        OldLibraries.sweep(Path.of(System.getProperty("java.io.tmpdir", "/tmp")), Instant.now());
    }

    private final DuckDBConnection connection;

    /**
     * What it may use.
     *
     * @param spill directory for what does not fit into memory; made when needed
     */
    public record Limits(int memoryMegabytes, int threads, Path spill) {
        public Limits {
            if (memoryMegabytes < 64 || threads < 1) {
                throw new IllegalArgumentException(
                        "at least 64 MB and 1 thread, was " + memoryMegabytes + " and " + threads);
            }
        }
    }

    private Duck(DuckDBConnection connection) {
        this.connection = connection;
    }

    public static Duck open(Limits limits) {
        Properties settings = new Properties();
        settings.setProperty("autoinstall_known_extensions", "false");
        settings.setProperty("autoload_known_extensions", "false");
        settings.setProperty("memory_limit", limits.memoryMegabytes() + "MB");
        settings.setProperty("threads", String.valueOf(limits.threads()));
        settings.setProperty("temp_directory", limits.spill().toAbsolutePath().toString());
        try {
            Connection connection = DriverManager.getConnection("jdbc:duckdb:", settings);
            return new Duck(connection.unwrap(DuckDBConnection.class));
        } catch (SQLException e) {
            throw new HistoryException("the database of the history does not start: " + e.getMessage(), e);
        }
    }

    /** Runs a statement of our own. */
    public void run(String sql) {
        try (Statement statement = connection.createStatement()) {
            statement.execute(sql);
        } catch (SQLException e) {
            throw failure(e);
        }
    }

    /** Runs a copy of our own and says how many rows it wrote. */
    public long copy(String sql) {
        try (Statement statement = connection.createStatement()) {
            return statement.executeUpdate(sql);
        } catch (SQLException e) {
            throw failure(e);
        }
    }

    /** What one question of our own answers, row by row. */
    public void ask(String sql, RowReader reader) {
        try (PreparedStatement statement = connection.prepareStatement(sql);
                ResultSet rows = statement.executeQuery()) {
            while (rows.next()) {
                reader.row(rows);
            }
        } catch (SQLException e) {
            throw failure(e);
        }
    }

    /** Reads the row at which the result is. */
    public interface RowReader {
        void row(ResultSet row) throws SQLException;
    }

    /** An empty table in memory, with the columns of {@code table}, called {@code name}. */
    public void create(Table table, String name) {
        run("create table " + name + " ("
                + table.columns().stream()
                        .map(column -> column.quoted() + " " + column.kind().sql())
                        .collect(Collectors.joining(", "))
                + ")");
    }

    /** Rows into a table in memory, until it is closed. */
    public Rows fill(String name) {
        try {
            return new Rows(connection.createAppender(name));
        } catch (SQLException e) {
            throw failure(e);
        }
    }

    /** Of somebody's question; the result's fetching is theirs. */
    public Connection connection() {
        return connection;
    }

    private static HistoryException failure(SQLException e) {
        return new HistoryException(String.valueOf(e.getMessage()), e);
    }

    /** A text as SQL takes it. */
    public static String literal(String text) {
        return "'" + text.replace("'", "''") + "'";
    }

    @Override
    public void close() {
        try {
            connection.close();
        } catch (SQLException e) {
            throw failure(e);
        }
    }
}
