package dev.rimecast.alerts.store;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowable;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.rules.BooksInForce;
import dev.rimecast.alerts.silence.Silence;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.Views;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import java.time.Instant;
import java.util.List;
import java.util.UUID;
import org.jdbi.v3.core.Handle;
import org.jdbi.v3.core.Jdbi;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Rows of alerts on a real database, without anything around it. */
class AlertRowsIT {
    private static OwnDatabase own;
    private static FindingStore findings;
    private static Views views;

    @BeforeAll
    static void start() {
        own = new OwnDatabase();
        BooksInForce books = new BooksInForce();
        findings = new FindingStore(books);
        views = new StoredViews(own.database(), books);
    }

    @AfterAll
    static void stop() {
        own.close();
    }

    private static UUID receive(Finding finding) {
        own.database().jdbi().useTransaction(handle -> {
            SiteLocks.take(handle, List.of(finding.site()));
            findings.receive(handle, finding, finding.at());
        });
        return finding.id();
    }

    /** A row of its own in each state, past the rules: what is new was seen by nobody, and not latched after that. */
    @Test
    void insert_ofAnAlertInTheMidstOfItsLife_isRefused() {
        UUID known = receive(Findings.raised("ice-2", Condition.SLOW_PULL_DOWN, NOON));
        Jdbi jdbi = own.database().jdbi();
        for (AlertState state : AlertState.values()) {
            Throwable refused =
                    catchThrowable(() -> jdbi.useTransaction(handle -> copy(handle, known, state, false, false)));
            if (state == AlertState.ACKNOWLEDGED || state == AlertState.LATCHED_ACKNOWLEDGED) {
                assertThat(refused).hasMessageContaining("can't begin as " + state.code());
            } else {
                assertThat(refused).as(state.code()).isNull();
            }
        }
        for (boolean seen : List.of(true, false)) {
            assertThatThrownBy(() -> jdbi.useTransaction(
                            handle -> copy(handle, known, AlertState.SUPPRESSED_BY_DESIGN, seen, !seen)))
                    .hasMessageContaining("can't begin as seen");
        }
    }

    private static void copy(Handle handle, UUID known, AlertState state, boolean seen, boolean acknowledged) {
        boolean over = state == AlertState.NORMAL
                || state.code().startsWith("returned")
                || state.code().startsWith("latched");
        boolean wasSeen = seen || state == AlertState.ACKNOWLEDGED;
        handle.execute(
                "insert into alert (id, subject, machine, site, condition, revision, stage, priority, raised_at,"
                        + " changed_at, severity_since, version, announced, finding, state, cleared_at, seen_stage,"
                        + " seen_priority, acknowledged_by, acknowledged_at)"
                        + " select ?, ?, machine, site, condition, revision, stage, priority, raised_at,"
                        + " changed_at, severity_since, 1, false, finding, ?, case when ? then changed_at end,"
                        + " case when ? then stage end, case when ? then priority end, case when ? then 'ada' end,"
                        + " case when ? then changed_at end from alert where id = ?",
                UUID.randomUUID(),
                "ice-2 " + UUID.randomUUID(),
                state.code(),
                over,
                wasSeen,
                wasSeen,
                acknowledged,
                acknowledged,
                known);
    }

    /** Two lose their power together and one has it again: the other is one silent machine, and no longer a power cut. */
    @Test
    void silence_ofOneThatIsLeft_isNoPowerCut() {
        Finding first = silent("ice-8", NOON);
        Finding second = silent("ice-9", NOON.plusSeconds(60));
        receive(first);
        receive(second);
        assertThat(words(first)).isEqualTo(Silence.POWER.words());
        assertThat(words(second)).isEqualTo(Silence.POWER.words());

        receive(Findings.next(first, Step.CLEARED, Stage.STOPPED, Priority.HIGH));

        assertThat(words(second)).isEqualTo(Silence.MACHINE.words());
        assertThat(words(first)).as("what is over is told as it was").isEqualTo(Silence.POWER.words());
    }

    private static Finding silent(String machine, Instant at) {
        return Findings.withCause(
                Findings.finding(machine, Condition.MACHINE_SILENT, at, 1, Step.RAISED, Stage.STOPPED, Priority.HIGH),
                Cause.POWER_OFF);
    }

    private static String words(Finding finding) {
        return views.alert(finding.id()).orElseThrow().silence().orElseThrow();
    }
}
