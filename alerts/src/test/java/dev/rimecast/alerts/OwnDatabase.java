package dev.rimecast.alerts;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.engines.EmbeddedPostgres;
import java.nio.file.Path;
import java.util.Optional;

/** A real database with the product's schema, and nothing else: for tests that need no Kafka. */
public final class OwnDatabase implements AutoCloseable {
    private static final int POOL_SIZE = 8;

    private final EmbeddedPostgres postgres;
    private Database database;

    public OwnDatabase() {
        postgres = Servers.emptyPostgres();
        database = open();
    }

    private Database open() {
        // Tests look at what the triggers refuse, so they come as the owner, whom nothing else refuses it.
        return Database.open(
                new DatabaseLogin(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword(), Optional.empty()),
                POOL_SIZE);
    }

    /** As it is before anything has come. */
    public void beginAnew() {
        database.close();
        Servers.emptyPostgres();
        database = open();
    }

    /** Where the server lives. */
    public static Path directory() {
        return Servers.directory();
    }

    public Database database() {
        return database;
    }

    @Override
    public void close() {
        database.close();
    }
}
