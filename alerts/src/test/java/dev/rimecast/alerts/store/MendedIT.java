package dev.rimecast.alerts.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;

import dev.rimecast.alerts.OwnDatabase;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.work.FoundCause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.proof.Verdict;
import java.time.Duration;
import java.time.Instant;
import java.time.OffsetDateTime;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** What has become of work: cases that are mended, and outcomes that say whether they have held. */
@TestInstance(Lifecycle.PER_CLASS)
class MendedIT {
    private static final Instant FROM = Instant.parse("2024-05-20T10:00:00Z");
    private static final Instant TO = FROM.plus(Duration.ofDays(1));

    @AutoClose
    private final OwnDatabase own = new OwnDatabase();

    @BeforeEach
    void beginAnew() {
        own.beginAnew();
    }

    private Set<UUID> mended(SiteScope sites) {
        return own.database()
                .jdbi()
                .withHandle(handle -> PastQuery.past(handle, sites, FROM, TO))
                .mended();
    }

    @Test
    void mended_isWhatIsClosedHasNotFailedAndIsNotBack() {
        UUID well = worked("ice-1", FROM, true);
        worked("ice-2", FROM, false);
        UUID lost = worked("ice-3", FROM, true);
        UUID back = worked("ice-4", FROM, true);
        worked("ice-4", FROM.plus(Duration.ofDays(29)), true);
        UUID later = worked("ice-5", FROM, true);
        worked("ice-5", FROM.plus(Duration.ofDays(31)), true);
        UUID another = worked("ice-6", FROM, true);
        worked("ice-6", FROM.plus(Duration.ofDays(9)), Condition.DRAIN_PUMP_OVERRUN, true);
        proof("ice-3", FROM.plus(Duration.ofHours(1)), Verdict.NOT_HELD);

        assertThat(mended(SiteScope.of(List.of("bar"))))
                .containsExactlyInAnyOrder(well, later, another)
                .doesNotContain(lost, back);
        assertThat(mended(SiteScope.of(List.of("pub")))).isEmpty();
    }

    /** A proof begins with the first report of a job. */
    @Test
    void outcomes_sayWhetherTheWorkHasHeld() {
        worked("ice-1", FROM, true);
        worked("ice-2", FROM, true);
        worked("ice-3", FROM, true);
        proof("ice-1", FROM, Verdict.HELD_SO_FAR);
        proof("ice-2", FROM.minus(Duration.ofDays(2)), Verdict.NOT_HELD);
        proof("ice-3", FROM.plus(Duration.ofHours(1)), Verdict.NOT_HELD);

        List<FoundCause> outcomes =
                own.database().jdbi().withHandle(handle -> OutcomeQuery.outcomes(handle, SiteScope.EVERY));

        assertThat(outcomes)
                .extracting(found -> found.truth().machine(), FoundCause::proof)
                .containsExactly(
                        tuple("ice-1", Optional.of(Verdict.HELD_SO_FAR)),
                        tuple("ice-2", Optional.empty()),
                        tuple("ice-3", Optional.of(Verdict.NOT_HELD)));
    }

    private void proof(String machine, Instant worked, Verdict verdict) {
        own.database()
                .jdbi()
                .useHandle(handle -> handle.execute(
                        "insert into proof (id, site, machine, worked_at, revision, at, verdict, last, record)"
                                + " values (?, 'bar', ?, ?, 1, ?, ?, true, '{}')",
                        UUID.randomUUID(),
                        machine,
                        worked.atOffset(ZoneOffset.UTC),
                        TO.atOffset(ZoneOffset.UTC),
                        verdict.code()));
    }

    /** A case with an alert, of which work is reported an hour after it began; closed after two hours, or not at all. */
    private UUID worked(String machine, Instant began, boolean isClosed) {
        return worked(machine, began, Condition.NOT_MAKING_ICE, isClosed);
    }

    private UUID worked(String machine, Instant began, Condition condition, boolean isClosed) {
        UUID caseId = UUID.randomUUID();
        OffsetDateTime at = began.atOffset(ZoneOffset.UTC);
        own.database().jdbi().useHandle(handle -> {
            handle.execute(
                    "insert into alert_case (id, site, subject, opened_at, latest_at, closed_at, version, announced)"
                            + " values (?, 'bar', ?, ?, ?, ?, 1, false)",
                    caseId,
                    machine,
                    at,
                    at,
                    isClosed ? at.plusHours(2) : null);
            handle.execute(
                    "insert into alert (id, subject, machine, site, condition, revision, stage, priority, raised_at,"
                            + " changed_at, cleared_at, severity_since, state, version, announced, finding, case_id)"
                            + " values (?, ?, ?, 'bar', ?, 2, 'stopped', 'urgent', ?, ?, ?, ?,"
                            + " 'normal', 1, false, '{}', ?)",
                    UUID.randomUUID(),
                    machine,
                    machine,
                    condition.code(),
                    at,
                    at,
                    at.plusHours(2),
                    at,
                    caseId);
            handle.execute(
                    "insert into work_report (id, site, machine, happened, found, found_text, job, note, who,"
                            + " certificate, case_id, entered_by, entered_at)"
                            + " values (?, 'bar', ?, ?, 'scale', '', '', '', 'ada', '', ?, 'ada', ?)",
                    UUID.randomUUID(),
                    machine,
                    at.plusHours(1),
                    caseId,
                    at.plusHours(1));
        });
        return caseId;
    }
}
