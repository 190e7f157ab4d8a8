package dev.rimecast.engines;

import java.io.IOException;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A PostgreSQL server beside this process, on loopback, with programs, data, port and passwords in one directory.
 * Commits are on disk when they return. A {@code kill -9} of this process leaves the server running; the next start
 * takes it over as it is, or stops it and starts it anew if its settings are not those wanted.
 */
public final class EmbeddedPostgres implements AutoCloseable {
    private static final Logger LOG = LoggerFactory.getLogger(EmbeddedPostgres.class);
    private static final int PORT_ATTEMPTS = 3;

    private final DirectoryLock lock;
    private final PostgresServer server;
    private final int port;
    private final String ownerPassword;
    private final String password;
    private final boolean takenOver;

    private EmbeddedPostgres(
            DirectoryLock lock,
            PostgresServer server,
            int port,
            String ownerPassword,
            String password,
            boolean takenOver) {
        this.lock = lock;
        this.server = server;
        this.port = port;
        this.ownerPassword = ownerPassword;
        this.password = password;
        this.takenOver = takenOver;
    }

    /**
     * Starts the server on {@code directory}, which is made ready if it is new: about 3 s, later starts under 1 s.
     *
     * @throws EngineException if the directory is in use, belongs to another major version, or the server does not
     *     start
     */
    public static EmbeddedPostgres start(Path directory, PostgresSettings settings) {
        Path absolute = directory.toAbsolutePath().normalize();
        try {
            DirectoryLock lock = DirectoryLock.acquire(absolute);
            try {
                return start(absolute, settings, lock);
            } catch (RuntimeException | IOException | SQLException e) {
                lock.close();
                throw e;
            }
        } catch (IOException | SQLException e) {
            throw new EngineException("PostgreSQL's directory " + absolute + " can't be used: " + e.getMessage(), e);
        }
    }

    private static EmbeddedPostgres start(Path directory, PostgresSettings settings, DirectoryLock lock)
            throws IOException, SQLException {
        String keeperPassword = Secret.inFile(directory.resolve("superuser-password"));
        String ownerPassword = Secret.inFile(directory.resolve("owner-password"));
        String password = Secret.inFile(directory.resolve("password"));
        PostgresBinaries binaries = PostgresBinaries.unpackBelow(directory);
        PostgresCommand command = PostgresCommand.in(directory, directory.resolve("password"));
        PostgresServer server = new PostgresServer(directory, binaries, command);
        server.initialise(PostgresRoles.KEEPER, directory.resolve("superuser-password"));

        KeptPorts kept = new KeptPorts(directory.resolve("port"), 1);
        int running = server.runningOn(kept, settings);
        boolean takenOver = running > 0 && answers(running, keeperPassword, server.cluster());
        int port = running;
        if (!takenOver) {
            server.stopIfRunning();
            port = startOnFreePort(server, kept, settings);
        }
        new PostgresRoles(port, keeperPassword).prepare(ownerPassword, password);
        LOG.info("PostgreSQL {} on port {}", takenOver ? "taken over" : "started", port);
        return new EmbeddedPostgres(lock, server, port, ownerPassword, password, takenOver);
    }

    private static int startOnFreePort(PostgresServer server, KeptPorts kept, PostgresSettings settings)
            throws IOException {
        int port = kept.choose().get(0);
        for (int attempt = 1; ; attempt++) {
            try {
                server.start(port, settings);
                return port;
            } catch (EngineException e) {
                if (attempt == PORT_ATTEMPTS || !String.valueOf(e.getMessage()).contains("could not bind")) {
                    throw e;
                }
                port = kept.chooseNew().get(0);
            }
        }
    }

    private static boolean answers(int port, String keeperPassword, Path cluster) {
        try (Connection connection = DriverManager.getConnection(
                        PostgresRoles.url(port, PostgresRoles.KEEPER), PostgresRoles.KEEPER, keeperPassword);
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery("SHOW data_directory")) {
            return row.next() && Path.of(row.getString(1)).equals(cluster);
        } catch (SQLException e) {
            LOG.info("the server on port {} does not answer as ours should: {}", port, e.getMessage());
            return false;
        }
    }

    /** URL of the product's database, which {@link #owner()} owns and {@link #user()} may use. */
    public String jdbcUrl() {
        return PostgresRoles.url(port, PostgresRoles.DATABASE);
    }

    /** The role that brings the schema level, and owns the database and nothing else. */
    public String owner() {
        return PostgresRoles.OWNER;
    }

    public String ownerPassword() {
        return ownerPassword;
    }

    /** The role of the application, which has what the owner grants it, at first nothing. */
    public String user() {
        return PostgresRoles.APPLICATION;
    }

    public String password() {
        return password;
    }

    /** Whether this start found the server of an earlier, killed process and went on with it. */
    public boolean isTakenOver() {
        return takenOver;
    }

    /** Ends open transactions and stops the server, within 3 s unless a checkpoint takes longer. */
    @Override
    public void close() {
        try (lock) {
            server.stopIfRunning();
        } catch (IOException e) {
            throw new EngineException("PostgreSQL could not be stopped: " + e.getMessage(), e);
        }
    }

    /** Without the password. */
    @Override
    public String toString() {
        return "EmbeddedPostgres[" + jdbcUrl() + "]";
    }
}
