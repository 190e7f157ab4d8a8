package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;

import dev.rimecast.alerts.gateways.GatewayDesk;
import dev.rimecast.alerts.people.AccountNote;
import dev.rimecast.engines.EmbeddedPostgres;
import dev.rimecast.engines.PostgresSettings;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.jdbi.v3.core.Jdbi;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What somebody could do who has taken over the process and its connection. */
class GrantsIT {
    private static final List<String> APPEND_ONLY = List.of(
            "account_audit",
            "alert_audit",
            "case_audit",
            "commissioning",
            "commissioning_answer",
            "mark",
            "mark_withdrawn",
            "policy_change",
            "rule_version",
            "visit_audit",
            "work_done",
            "work_photo",
            "work_report");

    private static final Instant NOW = Instant.parse("2026-05-04T12:00:00Z");

    @TempDir
    Path directory;

    private EmbeddedPostgres postgres;

    @BeforeEach
    void start() {
        postgres = EmbeddedPostgres.start(directory, PostgresSettings.STANDARD);
    }

    @AfterEach
    void stop() {
        postgres.close();
    }

    @Test
    void application_readsAndAddsToWhatIsAppendOnly_andChangesNeitherItNorTheSchema() {
        for (int start = 0; start < 2; start++) {
            Database.open(login(), 4).close();
        }
        Jdbi application = Jdbi.create(postgres.jdbcUrl(), postgres.user(), postgres.password());
        for (String table : APPEND_ONLY) {
            assertThat(rights(application, table)).as(table).containsExactly("INSERT", "SELECT");
            for (String change : List.of(
                    "delete from " + table,
                    "update " + table + " set ctid = ctid",
                    "truncate " + table,
                    "alter table " + table + " disable trigger all",
                    "drop table " + table)) {
                assertThatThrownBy(() -> application.useHandle(h -> h.execute(change)))
                        .as(change)
                        .hasMessageMatching("(?s).*(permission denied|must be owner|system column).*");
            }
        }
        assertThat(rights(application, "flyway_schema_history")).containsExactly("SELECT");
        assertThat(rights(application, "alert")).containsExactly("DELETE", "INSERT", "SELECT", "UPDATE");
        for (String change : List.of(
                "create table mine (n int)",
                "create or replace function refuse_change() returns trigger language plpgsql as 'begin return old; end'",
                "set session_replication_role = replica",
                "drop function refuse_change() cascade")) {
            assertThatThrownBy(() -> application.useHandle(h -> h.execute(change)))
                    .as(change)
                    .hasMessageMatching("(?s).*(permission denied|must be owner).*");
        }
    }

    /** Who gave a key and who took it back stays known, whoever has the application's connection. */
    @Test
    void keysOfGateways_areOnlyEverEnded_andEachChangeIsInTheAudit() {
        Database database = Database.open(login(), 4);
        GatewayDesk desk = new GatewayDesk(new StoredGateways(database, () -> {}), () -> NOW);
        desk.addSecret("Ada", "gw-1");
        desk.rotate("Ben", "gw-1", Duration.ofHours(24));
        desk.revoke("Cleo", "gw-1");
        assertThat(new StoredPeople(database).notes(10))
                .extracting(AccountNote::at, AccountNote::who, AccountNote::what)
                .containsExactlyInAnyOrder(
                        tuple(NOW, "Ada", "gateway key added"),
                        tuple(NOW, "Ben", "gateway key added"),
                        tuple(NOW, "Ben", "gateway key given an end"),
                        tuple(NOW, "Cleo", "gateway key revoked"),
                        tuple(NOW, "Cleo", "gateway key revoked"));
        assertThat(new StoredPeople(database).notes(10))
                .extracting(AccountNote::detail)
                .allMatch(
                        detail -> detail.matches("gw-1: secret, SHA-256 [0-9a-f]{12}(, until 2026-05-05T12:00:00Z)?"));

        desk.addSecret("Ada", "gw-2");
        Jdbi application = Jdbi.create(postgres.jdbcUrl(), postgres.user(), postgres.password());
        assertThat(rights(application, "gateway_credential")).containsExactly("INSERT", "SELECT", "UPDATE");
        for (String change : List.of(
                "delete from gateway_credential",
                "truncate gateway_credential",
                "update gateway_credential set ended_at = null, ended_by = null where gateway = 'gw-1'",
                "update gateway_credential set ended_by = 'Dan' where gateway = 'gw-1'",
                "update gateway_credential set gateway = 'gw-3' where gateway = 'gw-2'",
                "update gateway_credential set added_by = 'Dan' where gateway = 'gw-2'",
                "alter table gateway_credential disable trigger all")) {
            assertThatThrownBy(() -> application.useHandle(h -> h.execute(change)))
                    .as(change)
                    .hasMessageMatching("(?s).*(permission denied|must be owner|can only be ended).*");
        }
        database.close();
    }

    /** The list above must grow with the schema: every table that a trigger guards whole is in it. */
    @Test
    void everyTableWithSuchATrigger_isInThisTest() {
        Database.open(login(), 4).close();
        List<String> guarded = Jdbi.create(postgres.jdbcUrl(), postgres.owner(), postgres.ownerPassword())
                .withHandle(h -> h.createQuery("""
                                select event_object_table from information_schema.triggers
                                where action_statement like '%refuse_change%' and action_orientation = 'ROW'
                                group by 1 having count(distinct event_manipulation) = 2 order by 1""").mapTo(String.class).list());
        assertThat(guarded).isEqualTo(APPEND_ONLY);
    }

    /** As a database of the first version, whose tables belong to the application. */
    @Test
    void databaseOfTheFirstVersion_isHandedOver() throws Exception {
        Path data = directory.resolve("superuser-password");
        String keeper = java.nio.file.Files.readString(data).strip();
        try (Connection connection = DriverManager.getConnection(postgres.jdbcUrl(), "postgres", keeper);
                Statement statement = connection.createStatement()) {
            statement.execute("reassign owned by rimecast_owner to rimecast");
        }
        Database.migrate(postgres.jdbcUrl(), postgres.user(), postgres.password(), "18");
        postgres.close();

        postgres = EmbeddedPostgres.start(directory, PostgresSettings.STANDARD);
        Database.open(login(), 4).close();
        Jdbi application = Jdbi.create(postgres.jdbcUrl(), postgres.user(), postgres.password());
        assertThat(rights(application, "alert_audit")).containsExactly("INSERT", "SELECT");
        assertThat(application.<Integer, RuntimeException>withHandle(
                        h -> h.createQuery("select count(*) from pg_class where relowner = 'rimecast'::regrole")
                                .mapTo(Integer.class)
                                .one()))
                .isZero();
    }

    private DatabaseLogin login() {
        return new DatabaseLogin(
                postgres.jdbcUrl(),
                postgres.user(),
                postgres.password(),
                Optional.of(new DatabaseLogin.Owner(postgres.owner(), postgres.ownerPassword())));
    }

    private static List<String> rights(Jdbi application, String table) {
        return application.withHandle(
                h -> h.createQuery("""
                        select privilege_type from information_schema.role_table_grants
                        where grantee = current_user and table_name = :table order by 1""").bind("table", table).mapTo(String.class).list());
    }
}
