package dev.rimecast.alerts.store;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import com.zaxxer.hikari.metrics.micrometer.MicrometerMetricsTrackerFactory;
import io.micrometer.core.instrument.MeterRegistry;
import io.micrometer.core.instrument.simple.SimpleMeterRegistry;
import java.time.Duration;
import org.flywaydb.core.Flyway;
import org.flywaydb.core.api.configuration.FluentConfiguration;
import org.jdbi.v3.core.Jdbi;

/** Pool, schema and access. The schema is brought level when it is opened. */
public final class Database implements AutoCloseable {
    private static final Duration CONNECTION_WAIT = Duration.ofSeconds(5);

    private final HikariDataSource pool;
    private final Jdbi jdbi;

    private Database(HikariDataSource pool) {
        this.pool = pool;
        this.jdbi = Jdbi.create(pool);
    }

    /**
     * Brings the schema level, as its owner, and connects as the application.
     *
     * @throws RuntimeException if the server can't be reached or the schema is of a later version
     */
    public static Database open(DatabaseLogin login, int poolSize) {
        return open(login, poolSize, new SimpleMeterRegistry());
    }

    /** The same, with a pool that says how it does: connections in use and free, who waits for one, how long. */
    public static Database open(DatabaseLogin login, int poolSize, MeterRegistry meters) {
        HikariConfig config = new HikariConfig();
        config.setJdbcUrl(login.jdbcUrl());
        config.setUsername(login.user());
        config.setPassword(login.password());
        config.setMaximumPoolSize(poolSize);
        config.setMinimumIdle(1);
        config.setPoolName("alerts");
        config.setConnectionTimeout(CONNECTION_WAIT.toMillis());
        // A statement that waits for a server that is gone must come back, so that it can be tried again.
        config.addDataSourceProperty("socketTimeout", "60");
        config.addDataSourceProperty("connectTimeout", "5");
        config.addDataSourceProperty("reWriteBatchedInserts", "true");
        config.addDataSourceProperty("ApplicationName", "rimecast-alerts");
        config.setMetricsTrackerFactory(new MicrometerMetricsTrackerFactory(meters));
        login.owner().ifPresent(owner -> bringLevel(login, owner));
        HikariDataSource pool = new HikariDataSource(config);
        try {
            if (login.owner().isEmpty()) {
                schema().dataSource(pool).load().migrate();
            }
        } catch (RuntimeException e) {
            pool.close();
            throw e;
        }
        return new Database(pool);
    }

    private static void bringLevel(DatabaseLogin login, DatabaseLogin.Owner owner) {
        schema().dataSource(login.jdbcUrl(), owner.user(), owner.password())
                .load()
                .migrate();
        Grants.give(Jdbi.create(login.jdbcUrl(), owner.user(), owner.password()), login.user());
    }

    /**
     * Brings an empty database to a version of the schema that may not be the newest.
     *
     * @param user who is to own it
     * @throws RuntimeException if the server can't be reached or there is no such version
     */
    public static void migrate(String jdbcUrl, String user, String password, String version) {
        schema().dataSource(jdbcUrl, user, password).target(version).load().migrate();
    }

    private static FluentConfiguration schema() {
        return Flyway.configure(Database.class.getClassLoader())
                .locations("classpath:dev/rimecast/alerts/store/migration");
    }

    public Jdbi jdbi() {
        return jdbi;
    }

    /** Whether the server answers now. */
    public boolean answers() {
        try {
            return jdbi.withHandle(
                            h -> h.createQuery("select 1").mapTo(Integer.class).one())
                    == 1;
        } catch (RuntimeException e) {
            return false;
        }
    }

    @Override
    public void close() {
        pool.close();
    }
}
