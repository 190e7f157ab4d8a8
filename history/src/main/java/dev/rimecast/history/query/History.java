package dev.rimecast.history.query;

import dev.rimecast.history.duck.Duck;
import dev.rimecast.history.failure.HistoryException;
import dev.rimecast.history.store.HistoryDirectory;
import dev.rimecast.history.store.Manifest;
import dev.rimecast.history.store.StoredFile;
import dev.rimecast.telemetry.file.csv.IsoTime;
import java.io.IOException;
import java.nio.file.Path;
import java.sql.Blob;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.ResultSetMetaData;
import java.sql.SQLException;
import java.sql.Statement;
import java.sql.Timestamp;
import java.time.LocalDateTime;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * The history as it is when it is opened, for reading, whether or not somebody writes it. What is written meanwhile is in the
 * next one.
 */
public final class History implements AutoCloseable {
    private final HistoryDirectory directory;
    private final Manifest manifest;
    private final Duck duck;

    private History(HistoryDirectory directory, Manifest manifest, Duck duck) {
        this.directory = directory;
        this.manifest = manifest;
        this.duck = duck;
    }

    /**
     * Opens it.
     *
     * @param memoryMegabytes what a question may use; more goes to files in the system's temporary directory
     * @param withoutDamaged whether files that are cut off or missing are left out instead of refused
     * @throws HistoryException if there is none, or it is damaged
     */
    public static History open(Path root, int memoryMegabytes, boolean withoutDamaged) {
        return open(root, memoryMegabytes, withoutDamaged, false);
    }

    /**
     * Opens it, after a look at the bytes of its files where that is wished: else they are known by their lengths.
     *
     * @param isRead whether every file is read first and held against its sum
     * @throws HistoryException if there is none, or it is damaged
     */
    public static History open(Path root, int memoryMegabytes, boolean withoutDamaged, boolean isRead) {
        HistoryDirectory directory = new HistoryDirectory(root);
        if (!directory.exists()) {
            throw new HistoryException("there is no history in " + directory.root()
                    + ": name its directory, which is 'history' in the server's data directory; a server writes it from its"
                    + " first minutes on");
        }
        Manifest manifest = directory.read();
        List<StoredFile> damaged = isRead ? directory.altered(manifest.files()) : directory.damaged(manifest);
        if (!damaged.isEmpty() && !withoutDamaged) {
            throw new HistoryException("damaged: "
                    + damaged.stream()
                            .limit(5)
                            .map(file -> directory.path(file).toString())
                            .collect(Collectors.joining(", "))
                    + (damaged.size() > 5 ? " and " + (damaged.size() - 5) + " more" : "")
                    + " is cut off" + (isRead ? ", altered" : "")
                    + " or missing; put a copy of it back, or ask with --without-damaged, which leaves it out");
        }
        List<StoredFile> whole = new ArrayList<>(manifest.files());
        whole.removeAll(damaged);
        Manifest read = manifest.of(whole);
        Duck duck = Duck.open(new Duck.Limits(
                memoryMegabytes, Math.max(1, Math.min(4, Runtime.getRuntime().availableProcessors())), spill()));
        try {
            duck.run(new Views(directory).script(read));
            return new History(directory, read, duck);
        } catch (RuntimeException e) {
            duck.close();
            throw e;
        }
    }

    /**
     * Another database over the same files, for another thread.
     *
     * @param views that it has
     */
    public Duck another(int memoryMegabytes, int threads, View... views) {
        Duck other = Duck.open(new Duck.Limits(memoryMegabytes, threads, spill()));
        try {
            Views texts = new Views(directory);
            for (View view : views) {
                other.run(texts.create(view, manifest));
            }
            return other;
        } catch (RuntimeException e) {
            other.close();
            throw e;
        }
    }

    private static Path spill() {
        return Path.of(
                System.getProperty("java.io.tmpdir"),
                "rimecast-" + ProcessHandle.current().pid());
    }

    /** What it is made of. */
    public Manifest manifest() {
        return manifest;
    }

    public HistoryDirectory directory() {
        return directory;
    }

    /** The database, for what is not a question. */
    public Duck duck() {
        return duck;
    }

    /**
     * Asks.
     *
     * @param sql one statement that reads
     * @throws HistoryException if it is none, or wrong
     */
    public void ask(String sql, Answer answer) throws IOException {
        refuseChange(sql);
        try (Statement statement = duck.connection().createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            ResultSetMetaData meta = rows.getMetaData();
            List<String> names = new ArrayList<>();
            for (int column = 1; column <= meta.getColumnCount(); column++) {
                names.add(meta.getColumnLabel(column));
            }
            answer.columns(names);
            while (rows.next()) {
                List<@Nullable Object> cells = new ArrayList<>(names.size());
                for (int column = 1; column <= names.size(); column++) {
                    cells.add(cell(rows.getObject(column)));
                }
                answer.row(cells);
            }
            answer.end();
        } catch (SQLException e) {
            throw new HistoryException(wrong(e), e);
        }
    }

    /** The database itself says what reads and nothing else: only that can be written as JSON. */
    private void refuseChange(String sql) {
        String[] error = {""};
        try (PreparedStatement check = duck.connection()
                .prepareStatement("select json_extract_string(j, '$.error'), json_extract_string(j, '$.error_message')"
                        + " from (select json_serialize_sql(?::varchar) as j)")) {
            check.setString(1, sql);
            try (ResultSet row = check.executeQuery()) {
                if (row.next() && "true".equals(row.getString(1))) {
                    error[0] = String.valueOf(row.getString(2));
                }
            }
        } catch (SQLException e) {
            throw new HistoryException(wrong(e), e);
        }
        if (error[0].contains("SELECT statements")) {
            throw new HistoryException(
                    "the history is for reading: only select is answered, with from, with, describe and"
                            + " summarize as DuckDB has them");
        }
        if (!error[0].isEmpty()) {
            throw new HistoryException(error[0]);
        }
    }

    private static String wrong(SQLException e) {
        String message = String.valueOf(e.getMessage());
        return message.contains("does not exist") && message.contains("Table with name")
                ? message + "\nThere are: " + String.join(", ", View.codes())
                : message;
    }

    private static @Nullable Object cell(@Nullable Object value) throws SQLException {
        if (value == null || value instanceof Number || value instanceof Boolean) {
            return value;
        }
        if (value instanceof Timestamp || value instanceof LocalDateTime) {
            LocalDateTime time = value instanceof Timestamp stamp ? stamp.toLocalDateTime() : (LocalDateTime) value;
            return IsoTime.format(time.toInstant(ZoneOffset.UTC));
        }
        if (value instanceof OffsetDateTime time) {
            return IsoTime.format(time.toInstant());
        }
        if (value instanceof Blob blob) {
            return HexFormat.of().formatHex(blob.getBytes(1, (int) blob.length()));
        }
        return value.toString();
    }

    @Override
    public void close() {
        duck.close();
    }
}
