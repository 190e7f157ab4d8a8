package dev.rimecast.alerts;

import dev.rimecast.alerts.store.Database;
import dev.rimecast.alerts.store.DatabaseLogin;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.PostgresSettings;
import java.nio.file.Path;
import java.util.Optional;

/** A real database with the product's schema, and nothing else: for tests that need no Kafka. */
public final class OwnDatabase implements AutoCloseable {
    private static final int POOL_SIZE = 8;

    private final EmbeddedPostgres postgres;
    private Database database;

    public OwnDatabase(Path directory) {
        postgres = EmbeddedPostgres.start(directory.resolve("postgres"), PostgresSettings.STANDARD);
        database = open();
    }

    private Database open() {
        // Tests look at what the triggers refuse, so they come as the owner, whom nothing else refuses it.
        return Database.open(
                new DatabaseLogin(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword(), Optional.empty()),
                POOL_SIZE);
    }

    /** As it is before anything has come; sooner than another server. */
    public void beginAnew() {
        database.jdbi().useHandle(handle -> handle.execute("drop schema public cascade; create schema public"));
        database.close();
        database = open();
    }

    public Database database() {
        return database;
    }

    @Override
    public void close() {
        database.close();
        postgres.close();
    }
}
