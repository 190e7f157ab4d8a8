package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Inquiries.LinkOutcome;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteChecks.Outcome;
import dev.rimecast.alerts.view.SiteLinkView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** What got worse after its site was asked, and is over once the site has put it right: nobody has to acknowledge it. */
class SeenBySiteIT extends StageBench {
    private static final Person ADA = new Person("ada");
    private static final Inquiry ASKS =
            new Inquiry(List.of(), Optional.empty(), List.of("air-filter", "things-around"));
    private static final Instant OVER = NOON.plusSeconds(7_200);

    @BeforeAll
    void start() {
        know(new Register(
                List.of("washed", "unasked", "inorder", "revoked", "late", "stopped").stream()
                        .map(id -> Machine.basic(id, "bar", "gw-bar"))
                        .toList(),
                List.of()));
    }

    @BeforeEach
    void noon() {
        now = NOON.plusSeconds(600);
    }

    @Test
    void putRightByTheSite_isAcknowledgedByIt_andItsCaseCloses() throws Exception {
        UUID asked = asked("washed", "was-full");
        UUID other = raised("unasked");
        worse("washed");
        over("washed", OVER);
        over("unasked", OVER);

        assertThat(alert("washed").state()).isEqualTo(AlertState.NORMAL);
        assertThat(alert("washed").audit())
                .filteredOn(line -> line.who().equals("site") && line.what().equals("acknowledged"))
                .singleElement()
                .satisfies(line -> assertThat(line.why()).startsWith("Put right by the site's link. "));
        assertThat(caseOf(asked).closedAt()).contains(OVER);
        assertThat(alert("unasked").state()).isEqualTo(AlertState.RETURNED_UNACKNOWLEDGED);
        assertThat(caseOf(other).closedAt()).isEmpty();
    }

    @Test
    void foundInOrderByTheSite_waitsForSomebody() throws Exception {
        UUID asked = asked("inorder", "clean");
        worse("inorder");
        over("inorder", OVER);

        waits("inorder", asked);
    }

    @Test
    void linkThatHadEndedOrWasRevoked_waitsForSomebody() throws Exception {
        UUID late = asked("late", "was-full");
        worse("late");
        over("late", links(late).endsAt().plusSeconds(1));
        UUID revoked = asked("revoked", "was-full");
        stage.inquiries().revoke(links(revoked).id(), ADA);
        worse("revoked");
        over("revoked", OVER);

        waits("late", late);
        waits("revoked", revoked);
    }

    /** No ice on the day after the filter was washed: nobody has seen it. */
    @Test
    void whatCameAfterTheAnswer_waitsForSomebody() throws Exception {
        UUID asked = asked("stopped", "was-full");
        Instant later = now.plusSeconds(3_600);
        Finding stop = with(
                InquiryIT.finding("stopped", 1, Step.RAISED, 0.6, "It makes no ice.", Inquiry.NONE),
                Condition.NOT_MAKING_ICE,
                later,
                later);
        send(stop);
        assertThat(stage.views().alert(stop.id()).orElseThrow().caseId())
                .as("it joins the case")
                .contains(asked);
        now = OVER;
        send(with(
                InquiryIT.finding("stopped", 2, Step.CLEARED, 0.6, "It makes ice.", Inquiry.NONE),
                Condition.NOT_MAKING_ICE,
                later,
                OVER));

        assertThat(stage.views().alert(stop.id()).orElseThrow().state()).isEqualTo(AlertState.RETURNED_UNACKNOWLEDGED);
    }

    private void waits(String machine, UUID inCase) {
        assertThat(alert(machine).state()).isEqualTo(AlertState.RETURNED_UNACKNOWLEDGED);
        assertThat(caseOf(inCase).closedAt()).isEmpty();
    }

    private UUID raised(String machine) throws Exception {
        send(InquiryIT.finding(machine, 1, Step.RAISED, 0.6, "Condensing is 8 K too high.", ASKS));
        return alert(machine).caseId().orElseThrow();
    }

    private UUID asked(String machine, String filter) throws Exception {
        UUID id = raised(machine);
        LinkOutcome.Made made = (LinkOutcome.Made) stage.inquiries().ask(id, Optional.of(machine), ADA);
        assertThat(stage.siteChecks().answer(made.secret(), "air-filter", filter))
                .isInstanceOf(Outcome.Shown.class);
        assertThat(alert(machine).state()).as("who asks has seen it").isEqualTo(AlertState.ACKNOWLEDGED);
        return id;
    }

    private void worse(String machine) throws Exception {
        send(with(InquiryIT.finding(machine, 2, Step.UPDATED, 0.7, "", ASKS), Stage.AT_LIMIT, now.plusSeconds(60)));
        assertThat(alert(machine).state()).as("worse than what was seen").isEqualTo(AlertState.UNACKNOWLEDGED);
    }

    private void over(String machine, Instant at) throws Exception {
        now = at;
        send(with(InquiryIT.finding(machine, 3, Step.CLEARED, 0.7, "It is over.", ASKS), Stage.AT_LIMIT, at));
    }

    private void send(Finding finding) throws Exception {
        engines.send(finding);
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));
    }

    private AlertView alert(String machine) {
        return stage.views()
                .alert(Finding.idOf(machine, Condition.RISING_CONDENSING_TEMPERATURE, NOON))
                .orElseThrow();
    }

    private CaseView caseOf(UUID id) {
        return stage.views().caseOf(id).orElseThrow();
    }

    private SiteLinkView links(UUID caseId) {
        return stage.inquiries().links(SiteScope.EVERY).stream()
                .filter(link -> link.caseId().equals(caseId))
                .findFirst()
                .orElseThrow();
    }

    private static Finding with(Finding finding, Condition condition, Instant raised, Instant at) {
        return of(
                finding,
                Finding.idOf(finding.machine().orElseThrow(), condition, raised),
                condition,
                Stage.STOPPED,
                raised,
                at);
    }

    private static Finding with(Finding finding, Stage stage, Instant at) {
        return of(finding, finding.id(), finding.condition(), stage, finding.raisedAt(), at);
    }

    private static Finding of(Finding finding, UUID id, Condition condition, Stage stage, Instant raised, Instant at) {
        return new Finding(
                id,
                finding.revision(),
                finding.step(),
                finding.site(),
                finding.machine(),
                finding.gateway(),
                condition,
                stage,
                finding.priority(),
                at,
                raised,
                finding.causes(),
                finding.measure(),
                finding.limit(),
                finding.summary(),
                finding.detectorVersion(),
                finding.policyVersion(),
                finding.inquiry());
    }
}
