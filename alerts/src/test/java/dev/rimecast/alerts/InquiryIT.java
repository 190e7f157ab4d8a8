package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ScopedInquiries;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Answers on a real database and their way into the site's log. */
class InquiryIT extends StageBench {
    private static final Instant NOW = NOON.plusSeconds(600);
    private static final Person ADA = new Person("ada");

    InquiryIT() {
        super(NOW);
    }

    @BeforeAll
    void start() {
        List<Machine> machines = List.of(
                Machine.basic("asked", "bar", "gw-bar"),
                Machine.basic("worded", "bar", "gw-bar"),
                Machine.basic("over", "bar", "gw-bar"));
        know(new Register(machines, List.of()));
    }

    static Finding finding(String machine, int revision, Step step, double odds, String summary, Inquiry inquiry) {
        List<String> seen = summary.isEmpty() ? List.of() : List.of("Split is 8 K higher.");
        return new Finding(
                Finding.idOf(machine, Condition.RISING_CONDENSING_TEMPERATURE, NOON),
                revision,
                step,
                "bar",
                Optional.of(machine),
                Optional.empty(),
                Condition.RISING_CONDENSING_TEMPERATURE,
                Stage.EARLY,
                Priority.MEDIUM,
                NOON.plusSeconds(60L * revision),
                NOON,
                List.of(
                        new ProbableCause(Cause.AIRFLOW_RESTRICTED, odds, seen, List.of()),
                        new ProbableCause(Cause.FAN_WEAK, 0.9 - odds, List.of(), List.of())),
                Optional.empty(),
                Optional.empty(),
                summary,
                "1",
                "standard-1",
                inquiry);
    }

    private AlertView raised(String machine) throws Exception {
        engines.send(finding(machine, 1, Step.RAISED, 0.6, "Condensing is 8 K too high.", Inquiry.NONE));
        takenIn();
        return view(machine);
    }

    private void takenIn() throws Exception {
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));
    }

    private AlertView view(String machine) {
        return stage.views()
                .alert(Finding.idOf(machine, Condition.RISING_CONDENSING_TEMPERATURE, NOON))
                .orElseThrow();
    }

    @Test
    void answer_toAQuestion_isInTheLogTheAuditAndNothingElse() throws Exception {
        AlertView alert = raised("asked");

        Outcome outcome = stage.inquiries().answer(alert.finding().id(), ADA, "air-filter", "clean");

        assertThat(outcome).isInstanceOf(Outcome.Done.class);
        Happened expected =
                new Happened(NOW, Optional.of("asked"), EventKind.SITE_ANSWER, "air-filter:clean", "ada", "");
        await().untilAsserted(() -> assertThat(engines.siteLog("bar")).contains(expected));
        AlertView after = view("asked");
        assertThat(after.audit())
                .last()
                .satisfies(line -> assertThat(line.why()).isEqualTo("Air filter: it is clean"));
        assertThat(after.state()).isEqualTo(alert.state());
        assertThat(after.finding()).isEqualTo(alert.finding());
        assertThatThrownBy(() -> stage.inquiries().answer(alert.finding().id(), ADA, "air-filter", "perhaps"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("perhaps");
        assertThat(ScopedInquiries.of(stage.inquiries(), stage.views(), SiteScope.of(List.of("elsewhere")))
                        .answer(alert.finding().id(), ADA, "air-filter", "clean"))
                .isInstanceOf(Outcome.NoSuchAlert.class);
    }

    @Test
    void revisionOfAnAnswer_keepsTheWordsOfTheOneBefore() throws Exception {
        raised("worded");
        Inquiry inquiry = new Inquiry(
                List.of(new Inquiry.Given(
                        "air-filter", "clean", "ada", NOW, List.of(Cause.FAN_WEAK), List.of(Cause.AIRFLOW_RESTRICTED))),
                Optional.empty(),
                List.of());
        engines.send(finding("worded", 2, Step.UPDATED, 0.2, "", inquiry));
        takenIn();

        Finding stored = view("worded").finding();
        assertThat(stored.revision()).isEqualTo(2);
        assertThat(stored.summary()).isEqualTo("Condensing is 8 K too high.");
        assertThat(stored.causes().get(0).probability()).isEqualTo(0.2);
        assertThat(stored.causes().get(0).evidenceFor()).containsExactly("Split is 8 K higher.");
        assertThat(stored.inquiry()).isEqualTo(inquiry);
    }

    @Test
    void answer_alertThatIsOver_isNotTaken() throws Exception {
        AlertView alert = raised("over");
        engines.send(finding("over", 2, Step.CLEARED, 0.6, "It is as it should be.", Inquiry.NONE));
        takenIn();

        assertThat(stage.inquiries().answer(alert.finding().id(), ADA, "air-filter", "clean"))
                .isInstanceOf(Outcome.NotAllowed.class);
    }
}
