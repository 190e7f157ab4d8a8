package dev.rimecast.app.backup;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import org.postgresql.PGConnection;

/** Fills a database that has the schema of the archive, and nothing in it but what the schema brings. */
final class DatabaseRestore {
    private final Connection connection;
    private final Archive archive;

    DatabaseRestore(Connection connection, Archive archive) {
        this.connection = connection;
        this.archive = archive;
    }

    void fill() throws SQLException, IOException {
        connection.setAutoCommit(false);
        for (Manifest.Table table : archive.manifest().tables()) {
            if (isEmpty(table)) {
                load(table);
            } else {
                requireSame(table);
            }
        }
        try (PreparedStatement set = connection.prepareStatement("select setval(?::regclass, ?, ?)")) {
            for (Manifest.Sequence sequence : archive.manifest().sequences()) {
                set.setString(1, "public.\"" + sequence.name() + '"');
                set.setLong(2, sequence.last());
                set.setBoolean(3, sequence.isCalled());
                set.executeQuery().close();
            }
        }
        connection.commit();
    }

    private boolean isEmpty(Manifest.Table table) throws SQLException {
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("select not exists (select 1 from " + table.name() + ")")) {
            return row.next() && row.getBoolean(1);
        }
    }

    /** What was legal when it was written is not asked again: an alert comes back in the midst of its life. */
    private void load(Manifest.Table table) throws SQLException, IOException {
        switchTriggers(table, "disable");
        copy(table);
        switchTriggers(table, "enable");
    }

    /** Those that the schema declares; keys between tables are still checked. */
    private void switchTriggers(Manifest.Table table, String how) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute("alter table " + table.name() + ' ' + how + " trigger user");
        }
    }

    private void copy(Manifest.Table table) throws SQLException, IOException {
        String sql = "copy " + table.name() + " (" + String.join(", ", DatabaseExport.quoted(table.columns()))
                + ") from stdin";
        try (InputStream in = archive.open(table.entry())) {
            long rows = connection.unwrap(PGConnection.class).getCopyAPI().copyIn(sql, in);
            if (rows != table.rows()) {
                throw new BackupException("table " + table.name() + " took " + rows + " of " + table.rows() + " rows");
            }
        }
    }

    /** What the schema itself brings must be what was there. */
    private void requireSame(Manifest.Table table) throws SQLException, IOException {
        ByteArrayOutputStream there = new ByteArrayOutputStream();
        connection.unwrap(PGConnection.class).getCopyAPI().copyOut(DatabaseExport.copyOut(table), there);
        try (InputStream in = archive.open(table.entry())) {
            String kept = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            if (!kept.lines()
                    .sorted()
                    .toList()
                    .equals(there.toString(StandardCharsets.UTF_8)
                            .lines()
                            .sorted()
                            .toList())) {
                throw new BackupException(
                        "table " + table.name() + " of the archive differs from what its schema brings");
            }
        }
    }

    /** A row of {@code consumer_offset}: how far the database has taken a partition in. */
    record Taken(String topic, int partition, long next) {}

    List<Taken> taken() throws SQLException {
        List<Taken> all = new ArrayList<>();
        try (Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("select topic, partition, next_offset from consumer_offset")) {
            while (row.next()) {
                all.add(new Taken(row.getString(1), row.getInt(2), row.getLong(3)));
            }
        }
        return all;
    }

    void move(Taken taken, String topicId, long next) throws SQLException {
        try (PreparedStatement update = connection.prepareStatement(
                "update consumer_offset set topic_id = ?, next_offset = ? where topic = ? and partition = ?")) {
            update.setString(1, topicId);
            update.setLong(2, next);
            update.setString(3, taken.topic());
            update.setInt(4, taken.partition());
            update.executeUpdate();
        }
    }

    void commit() throws SQLException {
        connection.commit();
    }
}
