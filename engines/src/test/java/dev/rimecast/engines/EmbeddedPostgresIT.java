package dev.rimecast.engines;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EmbeddedPostgresIT {
    private static final PostgresSettings SETTINGS = PostgresSettings.STANDARD;

    @TempDir
    Path directory;

    @AfterEach
    void noServerIsLeftBehind() throws Exception {
        assertThat(server()).isEmpty();
    }

    @Test
    void restart_keepsPortPasswordAndRows() throws Exception {
        String url;
        String password;
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            url = postgres.jdbcUrl();
            password = postgres.password();
            execute(postgres, "CREATE TABLE kept AS SELECT 42 AS n");
        }
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            assertThat(postgres.jdbcUrl()).isEqualTo(url);
            assertThat(postgres.password()).isEqualTo(password);
            assertThat(postgres.isTakenOver()).isFalse();
            assertThat(query(postgres, "SELECT n FROM kept")).isEqualTo("42");
        }
    }

    @Test
    void server_isDurableAndShutToOthers() throws Exception {
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            assertThat(query(postgres, "SHOW fsync")).isEqualTo("on");
            assertThat(query(postgres, "SHOW synchronous_commit")).isEqualTo("on");
            assertThat(query(postgres, "SHOW data_checksums")).isEqualTo("on");
            assertThat(query(postgres, "SHOW listen_addresses")).isEqualTo("127.0.0.1");
            assertThat(query(postgres, "SELECT rolsuper::text FROM pg_roles WHERE rolname = current_user"))
                    .isEqualTo("false");
            assertThat(PosixFilePermissions.toString(Files.getPosixFilePermissions(directory.resolve("password"))))
                    .isEqualTo("rw-------");
            assertThat(PosixFilePermissions.toString(
                            Files.getPosixFilePermissions(directory.resolve("superuser-password"))))
                    .isEqualTo("rw-------");
            assertThatThrownBy(() -> DriverManager.getConnection(postgres.jdbcUrl(), postgres.user(), "guess"))
                    .isInstanceOf(SQLException.class)
                    .hasMessageContaining("password authentication failed");
            assertThatThrownBy(() -> DriverManager.getConnection(postgres.jdbcUrl(), "postgres", ""))
                    .isInstanceOf(SQLException.class);
        }
    }

    @Test
    void killOfTheProcess_serverIsTakenOverWithAllCommittedRows() throws Exception {
        killWhileCommitting(300);
        long survivor = server().orElseThrow().pid();

        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            assertThat(postgres.isTakenOver()).isTrue();
            assertThat(server().orElseThrow().pid()).isEqualTo(survivor);
            assertThat(Integer.parseInt(query(postgres, "SELECT count(*) FROM kept WHERE n <= 300")))
                    .isEqualTo(301);
        }
    }

    @Test
    void killOfTheProcess_otherSettingsWanted_serverIsStartedAnew() throws Exception {
        killWhileCommitting(50);
        long survivor = server().orElseThrow().pid();

        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, new PostgresSettings(20, 32))) {
            assertThat(postgres.isTakenOver()).isFalse();
            assertThat(server().orElseThrow().pid()).isNotEqualTo(survivor);
            assertThat(query(postgres, "SHOW max_connections")).isEqualTo("20");
            assertThat(Integer.parseInt(query(postgres, "SELECT count(*) FROM kept WHERE n <= 50")))
                    .isEqualTo(51);
        }
    }

    @Test
    void killOfEverything_committedRowsAreThere() throws Exception {
        killWhileCommitting(300);
        ProcessHandle server = server().orElseThrow();
        server.destroyForcibly();
        server.onExit().join();

        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            assertThat(postgres.isTakenOver()).isFalse();
            assertThat(Integer.parseInt(query(postgres, "SELECT count(*) FROM kept WHERE n <= 300")))
                    .isEqualTo(301);
        }
    }

    @Test
    void pidFileOfAnotherProgram_isStale() throws Exception {
        EmbeddedPostgres.start(directory, SETTINGS).close();
        // After a reboot the number may belong to anything that runs, here to the test itself.
        Files.writeString(
                PostgresProcess.pidFile(directory.resolve("cluster")),
                ProcessHandle.current().pid() + "\n" + directory.resolve("cluster") + "\n1\n1\n\n\n\n");

        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            assertThat(query(postgres, "SELECT 1")).isEqualTo("1");
        }
    }

    @Test
    void makingTheClusterWasInterrupted_nextStartMakesIt() throws Exception {
        Files.createDirectories(directory.resolve("cluster.new/base"));
        Files.createDirectories(directory.resolve("binaries.unpacking/bin"));
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            assertThat(query(postgres, "SELECT 1")).isEqualTo("1");
        }
    }

    @Test
    void directoryInUse_isRefusedWithTheReason() throws Exception {
        try (EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS)) {
            assertThatThrownBy(() -> EmbeddedPostgres.start(directory, SETTINGS))
                    .isInstanceOf(EngineException.class)
                    .hasMessageContaining("in use by another process");
            assertThat(query(postgres, "SELECT 1")).isEqualTo("1");
        }
    }

    @Test
    void otherMajorVersion_isRefused() throws Exception {
        Files.createDirectories(directory.resolve("cluster"));
        Files.writeString(directory.resolve("cluster/PG_VERSION"), "17\n");
        assertThatThrownBy(() -> EmbeddedPostgres.start(directory, SETTINGS))
                .isInstanceOf(EngineException.class)
                .hasMessageContaining("PostgreSQL 17");
    }

    /** A smart shutdown would wait for it, for a minute at least: the bound tells the two apart on a busy machine, too. */
    @Test
    void close_withAnOpenTransaction_doesNotWaitForIt() throws Exception {
        EmbeddedPostgres postgres = EmbeddedPostgres.start(directory, SETTINGS);
        try (Connection connection =
                DriverManager.getConnection(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword())) {
            connection.setAutoCommit(false);
            connection.createStatement().execute("CREATE TABLE undone (n int)");
            long start = System.nanoTime();
            postgres.close();
            assertThat(Duration.ofNanos(System.nanoTime() - start)).isLessThan(Duration.ofSeconds(30));
        }
    }

    private void killWhileCommitting(int rows) throws Exception {
        try (ChildJvm child = ChildJvm.start(EngineChild.class, "postgres", directory.toString())) {
            child.awaitLine("committed " + rows);
        }
    }

    private Optional<ProcessHandle> server() throws Exception {
        return PostgresProcess.on(directory.resolve("cluster"));
    }

    private static void execute(EmbeddedPostgres postgres, String sql) throws SQLException {
        try (Connection connection =
                        DriverManager.getConnection(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword());
                Statement statement = connection.createStatement()) {
            statement.execute(sql);
        }
    }

    private static String query(EmbeddedPostgres postgres, String sql) throws SQLException {
        try (Connection connection =
                        DriverManager.getConnection(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword());
                Statement statement = connection.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            assertThat(row.next()).isTrue();
            return row.getString(1);
        }
    }
}
