package dev.rimecast.app.backup;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.apache.kafka.clients.admin.Admin;

/**
 * Writes everything of one machine into a file, while it runs. The order is what makes it fit together: first the database's
 * moment, then the cut through Kafka's logs, so that nothing in the database is ahead of them; what is behind in it is taken in
 * again after a restore, and recognised. Analytics rests until the cut is found and its state is written, seconds; packs are
 * taken in all the time.
 *
 * @param kafka settings of a client
 * @param jdbcUrl of the database
 * @param product version that is written into the archive
 * @param rest has analytics rest while it is open
 */
public record Backup(
        Map<String, String> kafka, String jdbcUrl, String user, String password, String product, Rest rest) {

    /** Has analytics rest. */
    public interface Rest {
        /** Nobody else runs. */
        Rest NOBODY = () -> () -> {};

        /** Returns what ends the rest; may be called before its work has ended. */
        Wake begin();

        /** Ends it; a second call does nothing. */
        interface Wake extends AutoCloseable {
            @Override
            void close();
        }
    }

    /**
     * Writes the archive.
     *
     * @param file that is not there yet; it is deleted if the backup fails
     * @return its size, bytes
     * @throws BackupException if something does not answer, or analytics does not come to rest
     */
    public long to(Path file, Instant now) throws IOException {
        try (ArchiveWriter archive = new ArchiveWriter(file)) {
            write(archive, now);
        } catch (SQLException e) {
            Files.deleteIfExists(file);
            throw new BackupException("the database can't be read: " + e.getMessage(), e);
        } catch (IOException | RuntimeException e) {
            Files.deleteIfExists(file);
            throw e;
        }
        return Files.size(file);
    }

    private void write(ArchiveWriter archive, Instant now) throws IOException, SQLException {
        try (Connection connection = DriverManager.getConnection(jdbcUrl, user, password);
                Admin admin = Admin.create(new HashMap<String, Object>(kafka));
                TopicExport topics = new TopicExport(kafka)) {
            DatabaseExport database = new DatabaseExport(connection);
            Cut cut;
            try (Rest.Wake wake = rest.begin()) {
                cut = Cut.find(admin);
                for (Manifest.Topic topic : cut.topics()) {
                    if (Cut.isCompacted(topic)) {
                        topics.write(archive, topic, cut);
                    }
                }
            }
            for (Manifest.Topic topic : cut.topics()) {
                if (!Cut.isCompacted(topic)) {
                    topics.write(archive, topic, cut);
                }
            }
            List<Manifest.Table> tables = new ArrayList<>();
            for (String table : database.tablesInOrder()) {
                tables.add(database.write(archive, table));
            }
            archive.seal(new Manifest(
                    Manifest.FORMAT,
                    product,
                    now.toString(),
                    database.schema(),
                    tables,
                    database.sequences(),
                    cut.topics(),
                    positions(cut),
                    archive.entries()));
        }
    }

    private static List<Manifest.Position> positions(Cut cut) {
        return cut.positions().entrySet().stream()
                .map(position -> new Manifest.Position(
                        position.getKey().topic(),
                        position.getKey().partition(),
                        position.getValue().offset(),
                        position.getValue().metadata()))
                .toList();
    }

    /** Without the password. */
    @Override
    public String toString() {
        return "Backup[" + kafka.get("bootstrap.servers") + ", " + jdbcUrl + "]";
    }
}
