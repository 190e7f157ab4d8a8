package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import dev.rimecast.alerts.keep.Retention;
import dev.rimecast.alerts.notice.Books;
import dev.rimecast.alerts.notice.send.Outcome;
import dev.rimecast.alerts.store.RetentionPass;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;

/** What becomes of the log of notices when it is old: only what is over goes, and never a record of an alert. */
@TestInstance(Lifecycle.PER_CLASS)
class OldNoticesIT {
    private static final Instant BEGIN = Instant.parse("2026-11-25T12:00:00Z");
    /** A Monday noon again: the desk has hours. */
    private static final Duration LONG_AFTER = Retention.STANDARD.notices().plusDays(102);

    @AutoClose
    private OutboxBench bench;

    private World world;

    @BeforeAll
    void start() {
        bench = new OutboxBench(Books.desk());
        world = bench.world();
    }

    @BeforeEach
    void empty() {
        bench.begin(BEGIN);
    }

    private long count(String from) {
        return bench.database()
                .jdbi()
                .withHandle(handle -> handle.createQuery("select count(*) from " + from)
                        .mapTo(Long.class)
                        .one());
    }

    private void takeAwayWhatIsOld() {
        RetentionPass pass = new RetentionPass(bench.database(), Retention.STANDARD);
        for (int look = 0; look < 50; look++) {
            pass.run(bench.now());
        }
    }

    private Finding toldAndOver(String machine) {
        Finding raised = world.raise("site-a", machine, Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();
        world.clear(raised);
        world.acknowledgeAll();
        bench.round();
        return raised;
    }

    @Test
    void overForLong_noticesGo_theAlertItsCaseAndTheirAuditsStay() {
        toldAndOver("ice-0");
        long alerts = count("alert");
        long cases = count("alert_case");
        long audit = count("alert_audit");
        long caseAudit = count("case_audit");
        assertThat(count("notice_delivery where kind in ('raised', 'over') and state = 'sent'"))
                .isPositive();
        bench.pass(LONG_AFTER);
        takeAwayWhatIsOld();

        assertThat(count("notice_delivery")).isZero();
        assertThat(count("notice_attempt")).isZero();
        assertThat(count("notice_matter")).isZero();
        assertThat(count("notice_digest")).as("the newest of each name").isEqualTo(1);
        assertThat(count("finding_revision")).isZero();
        assertThat(count("alert")).isEqualTo(alerts).isPositive();
        assertThat(count("alert_case")).isEqualTo(cases).isPositive();
        assertThat(count("alert_audit")).isEqualTo(audit).isPositive();
        assertThat(count("case_audit")).isEqualTo(caseAudit).isPositive();
    }

    @Test
    void overForLess_nothingGoes() {
        toldAndOver("ice-0");
        long notices = count("notice_delivery");
        long attempts = count("notice_attempt");
        bench.pass(Retention.STANDARD.notices().minusDays(1));
        takeAwayWhatIsOld();

        assertThat(count("notice_delivery")).isEqualTo(notices);
        assertThat(count("notice_attempt")).isEqualTo(attempts);
    }

    @Test
    void openForLong_noticesStay_andItsEndIsStillTold() {
        Finding open = world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();
        world.acknowledgeAll();
        bench.round();
        long attempts =
                count("notice_attempt a join notice_delivery d on d.id = a.delivery where d.matter is not null");
        bench.pass(LONG_AFTER);
        takeAwayWhatIsOld();

        assertThat(count("notice_delivery where kind = 'raised' and state = 'sent'"))
                .isEqualTo(1);
        assertThat(count("notice_attempt")).isEqualTo(attempts).isPositive();
        assertThat(count("finding_revision")).isEqualTo(1);
        world.clear(open);
        world.acknowledgeAll();
        bench.round();
        assertThat(bench.inboxes().arrived("desk")).contains("raised", "over");
    }

    @Test
    void waiting_howeverOld_stays_andArrives() {
        bench.inboxes().answer("desk", new Outcome.Again("not now", Optional.empty()));
        world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();
        assertThat(count("notice_delivery where state = 'waiting' and attempts > 0"))
                .isPositive();
        bench.pass(LONG_AFTER);
        takeAwayWhatIsOld();
        bench.inboxes().empty();
        bench.inboxes().answer("desk", new Outcome.Sent("fine"));
        bench.round();

        assertThat(bench.inboxes().arrived("desk")).contains("raised");
    }

    @Test
    void attempts_ofANoticeThatIsThere_cantBeTakenAway() {
        toldAndOver("ice-0");
        assertThatThrownBy(() -> bench.database().jdbi().useHandle(h -> h.execute("delete from notice_attempt")))
                .hasMessageContaining("append-only");
        assertThatThrownBy(() ->
                        bench.database().jdbi().useHandle(h -> h.execute("update notice_attempt set detail = 'nicer'")))
                .hasMessageContaining("append-only");
    }
}
