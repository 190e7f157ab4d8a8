package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Inquiries.LinkOutcome;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ScopedInquiries;
import dev.rimecast.alerts.view.SiteCheckView;
import dev.rimecast.alerts.view.SiteChecks.Outcome;
import dev.rimecast.alerts.view.SiteLinkView;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.cycle.Cycle;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Inquiry;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.reading.Reading;
import java.security.MessageDigest;
import java.time.Duration;
import java.time.Instant;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.UUID;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Links of sites on a real database: what they show, what they write, and how they end. */
class SiteLinkIT extends StageBench {
    private static final Person ADA = new Person("ada");
    private static final Inquiry ASKS =
            new Inquiry(List.of(), Optional.empty(), List.of("air-filter", "things-around", "air-blows"));
    private static final List<String> MACHINES =
            List.of("answered", "cured", "visited", "late", "revoked", "unasked", "advised", "twice", "full", "closed");

    @BeforeAll
    void start() {
        know(new Register(
                MACHINES.stream().map(id -> Machine.basic(id, "bar", "gw-bar")).toList(), List.of()));
    }

    @BeforeEach
    void noon() {
        now = NOON.plusSeconds(600);
    }

    private AlertView alert(String machine) {
        return stage.views()
                .alert(Finding.idOf(machine, Condition.RISING_CONDENSING_TEMPERATURE, NOON))
                .orElseThrow();
    }

    private void takenIn(String topic) throws Exception {
        engines.flush();
        await().until(() -> engines.isTakenIn(topic));
    }

    private UUID raised(String machine, Inquiry inquiry) throws Exception {
        engines.send(InquiryIT.finding(machine, 1, Step.RAISED, 0.6, "Condensing is 8 K too high.", inquiry));
        takenIn(Topics.FINDINGS);
        return alert(machine).caseId().orElseThrow();
    }

    private LinkOutcome.Made asked(String machine, Inquiry inquiry) throws Exception {
        return (LinkOutcome.Made) stage.inquiries().ask(raised(machine, inquiry), Optional.of(machine), ADA);
    }

    private SiteCheckView look(String secret) {
        return ((Outcome.Shown) stage.siteChecks().look(secret)).view();
    }

    private SiteCheckView answer(String secret, String check, String answer) {
        return ((Outcome.Shown) stage.siteChecks().answer(secret, check, answer)).view();
    }

    private void cycle(String machine, Instant start) {
        engines.send(
                "bar",
                new Cycle(
                        machine,
                        start,
                        start.plusSeconds(1500),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        "none",
                        OptionalDouble.empty(),
                        "none",
                        OptionalInt.empty(),
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        true,
                        List.of(),
                        "1",
                        "standard-1",
                        Optional.empty()));
    }

    private List<Happened> happened(String machine) {
        return engines.siteLog("bar").stream()
                .filter(Happened.class::isInstance)
                .map(Happened.class::cast)
                .filter(event -> event.machine().equals(Optional.of(machine)))
                .toList();
    }

    @Test
    void link_threeChecks_oneAtATimeIntoTheLog_stillNoIceIsOneCall() throws Exception {
        LinkOutcome.Made made = asked("answered", ASKS);
        assertThat(made.secret()).hasSizeGreaterThanOrEqualTo(43);
        assertThat(alert("answered").state()).as("who asks has seen it").isEqualTo(AlertState.ACKNOWLEDGED);

        SiteCheckView first = look(made.secret());
        assertThat(first.state()).isEqualTo(SiteCheckView.State.ASKING);
        assertThat(first.check().orElseThrow().id()).isEqualTo("air-filter");
        assertThat(answer(made.secret(), "air-filter", "still-no-ice")
                        .check()
                        .orElseThrow()
                        .id())
                .isEqualTo("things-around");
        assertThat(answer(made.secret(), "things-around", "cannot").number()).isEqualTo(3);
        SiteCheckView last = answer(made.secret(), "air-blows", "still-no-ice");
        assertThat(last.state()).isEqualTo(SiteCheckView.State.WATCHING);
        assertThat(last.answers()).hasSize(3);
        assertThat(stage.siteChecks().answer(made.secret(), "pieces", "thin")).isInstanceOf(Outcome.Changed.class);

        await().until(() -> happened("answered").size() == 4);
        assertThat(happened("answered"))
                .extracting(event -> event.kind().code() + ' ' + event.detail() + " by " + event.by())
                .containsExactly(
                        "site-answer air-filter:still-no-ice by site",
                        "call no-ice by site",
                        "site-answer things-around:cannot-tell by site",
                        "site-answer air-blows:still-no-ice by site");
        CaseView of = stage.views().caseOf(made.link().caseId()).orElseThrow();
        assertThat(of.calls()).hasSize(1);
        assertThat(of.audit()).extracting(AlertView.AuditLine::what).contains("site asked", "site answered");
    }

    @Test
    void link_putRightAndClear_closesTheCaseWithAReceipt() throws Exception {
        LinkOutcome.Made made = asked("cured", ASKS);
        assertThat(answer(made.secret(), "air-filter", "was-full")
                        .answers()
                        .get(0)
                        .putsRight())
                .isTrue();
        for (int i = 0; i < 4; i++) {
            cycle("cured", now.plusSeconds(60 + 1500L * i));
        }
        takenIn(Topics.CYCLES);
        now = NOON.plusSeconds(7_200);
        engines.send(clearedAt("cured", now));
        takenIn(Topics.FINDINGS);

        SiteCheckView over = look(made.secret());
        assertThat(over.state()).isEqualTo(SiteCheckView.State.OVER);
        assertThat(over.receipt().orElseThrow().by().check()).isEqualTo("air-filter");
        assertThat(over.receipt().orElseThrow().cycles()).isEqualTo(4);
        assertThat(over.receipt().orElseThrow().visited()).isFalse();
        assertThat(stage.views().caseOf(made.link().caseId()).orElseThrow().closedAt())
                .as("it was seen, so it closes by itself")
                .isPresent();
        assertThat(link(made).state()).isEqualTo(SiteLinkView.State.OVER);
        assertThat(stage.siteChecks().answer(made.secret(), "things-around", "free"))
                .as("nothing is taken any more")
                .isInstanceOf(Outcome.Changed.class);
    }

    @Test
    void receipt_withAVisitMeanwhile_saysSo() throws Exception {
        LinkOutcome.Made made = asked("visited", ASKS);
        answer(made.secret(), "air-filter", "was-full");
        stage.siteEvents()
                .report(new Happened(now, Optional.of("visited"), EventKind.VISIT, "fan-weak", "eng", "4711"), "bar");
        now = NOON.plusSeconds(7_200);
        engines.send(clearedAt("visited", now));
        takenIn(Topics.FINDINGS);

        assertThat(look(made.secret()).receipt().orElseThrow().visited()).isTrue();
    }

    @Test
    void link_afterItsTime_opensNothing() throws Exception {
        LinkOutcome.Made made = asked("late", ASKS);
        now = made.link().endsAt().minusMillis(1);
        assertThat(stage.siteChecks().look(made.secret())).isInstanceOf(Outcome.Shown.class);
        now = made.link().endsAt();

        assertThat(Duration.between(made.link().madeAt(), made.link().endsAt())).isEqualTo(Duration.ofHours(48));
        assertThat(stage.siteChecks().look(made.secret())).isInstanceOf(Outcome.Ended.class);
        assertThat(stage.siteChecks().answer(made.secret(), "air-filter", "clean"))
                .isInstanceOf(Outcome.Ended.class);
        assertThat(stage.siteChecks().look("x")).isInstanceOf(Outcome.NoSuchLink.class);
        assertThat(stage.siteChecks().look("")).isInstanceOf(Outcome.NoSuchLink.class);
    }

    @Test
    void link_revokedByAPersonOrByANewerOne_opensNothing() throws Exception {
        LinkOutcome.Made first = asked("revoked", ASKS);
        LinkOutcome.Made second =
                (LinkOutcome.Made) stage.inquiries().ask(first.link().caseId(), Optional.of("revoked"), ADA);

        assertThat(stage.siteChecks().look(first.secret())).isInstanceOf(Outcome.Ended.class);
        assertThat(ScopedInquiries.of(stage.inquiries(), stage.views(), SiteScope.of(List.of("elsewhere")))
                        .revoke(second.link().id(), ADA))
                .as("of another site")
                .isFalse();
        assertThat(stage.inquiries().revoke(second.link().id(), ADA)).isTrue();
        assertThat(stage.inquiries().revoke(second.link().id(), ADA))
                .as("again")
                .isFalse();
        assertThat(stage.siteChecks().look(second.secret())).isInstanceOf(Outcome.Ended.class);
        assertThat(link(second).state()).isEqualTo(SiteLinkView.State.REVOKED);
    }

    @Test
    void ask_machineOfAnotherCase_isRefused() throws Exception {
        UUID of = raised("unasked", ASKS);

        assertThat(stage.inquiries().ask(of, Optional.of("answered"), ADA)).isInstanceOf(LinkOutcome.NotAllowed.class);
        assertThat(stage.inquiries().ask(UUID.randomUUID(), Optional.empty(), ADA))
                .isInstanceOf(LinkOutcome.NoSuchCase.class);
    }

    @Test
    void link_findingThatAsksTheSiteNothing_asksTheChecksOfTheAdvice() throws Exception {
        LinkOutcome.Made made = asked("advised", Inquiry.NONE);

        SiteCheckView view = look(made.secret());
        assertThat(view.check().orElseThrow().id()).isEqualTo("airflow-restricted.1");
        assertThat(answer(made.secret(), "airflow-restricted.1", "done")
                        .check()
                        .orElseThrow()
                        .id())
                .isEqualTo("airflow-restricted.2");
        await().until(() ->
                happened("advised").stream().anyMatch(event -> event.detail().equals("airflow-restricted.1:done")));
    }

    /** Its bin is full, or its site says that it is closed: what only a running machine can answer is left for later. */
    @Test
    void link_toAMachineThatStands_asksWhatCanBeAnsweredNow() throws Exception {
        Inquiry asks = new Inquiry(List.of(), Optional.empty(), List.of("air-blows", "things-around"));
        LinkOutcome.Made full = asked("full", asks);
        LinkOutcome.Made closed = asked("closed", asks);
        assertThat(look(full.secret()).check().orElseThrow().id()).isEqualTo("air-blows");
        assertThat(look(closed.secret()).check().orElseThrow().id()).isEqualTo("air-blows");

        engines.send(
                "bar",
                new Pack(
                        "gw-bar",
                        Optional.empty(),
                        now,
                        List.of(Reading.phase("full", now.toEpochMilli(), Phase.IDLE)),
                        0));
        engines.flush();
        stage.siteEvents().report(new Happened(now, Optional.of("closed"), EventKind.CLOSED_FROM, "", "", ""), "bar");

        await().until(() -> look(full.secret()).check().orElseThrow().id().equals("things-around"));
        assertThat(look(closed.secret()).check().orElseThrow().id()).isEqualTo("things-around");
        now = now.plus(Duration.ofHours(1));
        assertThat(look(full.secret()).check().orElseThrow().id())
                .as("what it told an hour ago says nothing of now")
                .isEqualTo("air-blows");
    }

    /** The page shows a question until it looks again; what is asked first may be another one by then. */
    @Test
    void answerToAQuestionThatIsNotTheFirstAnyMore_isTaken() throws Exception {
        LinkOutcome.Made made = asked("overtaken", ASKS);

        SiteCheckView after = answer(made.secret(), "things-around", "free");

        assertThat(after.answers())
                .singleElement()
                .satisfies(said -> assertThat(said.check()).isEqualTo("things-around"));
        assertThat(after.check().orElseThrow().id()).isEqualTo("air-filter");
        assertThat(stage.siteChecks().answer(made.secret(), "no-such-question", "free"))
                .isInstanceOf(Outcome.Changed.class);
        await().until(() ->
                happened("overtaken").stream().anyMatch(event -> event.detail().equals("things-around:free")));
    }

    @Test
    void answer_sentTwice_countsOnce() throws Exception {
        LinkOutcome.Made made = asked("twice", ASKS);
        answer(made.secret(), "air-filter", "clean");

        assertThat(stage.siteChecks().answer(made.secret(), "air-filter", "clean"))
                .isInstanceOf(Outcome.Changed.class);
        assertThat(look(made.secret()).answers()).hasSize(1);
        List<String> hashes = engines.jdbi()
                .withHandle(handle -> handle.createQuery("select encode(token_hash, 'hex') from site_link_secret")
                        .mapTo(String.class)
                        .list());
        byte[] sha256 =
                MessageDigest.getInstance("SHA-256").digest(made.secret().getBytes(UTF_8));
        assertThat(hashes)
                .as("only a hash of the secret is kept")
                .contains(HexFormat.of().formatHex(sha256))
                .doesNotContain(HexFormat.of().formatHex(made.secret().getBytes(UTF_8)));
    }

    private SiteLinkView link(LinkOutcome.Made made) {
        return stage.inquiries().links(SiteScope.EVERY).stream()
                .filter(link -> link.id().equals(made.link().id()))
                .findFirst()
                .orElseThrow();
    }

    private static Finding clearedAt(String machine, Instant at) {
        Finding over = InquiryIT.finding(
                machine,
                2,
                Step.CLEARED,
                0.9,
                "Put right on site: the 3 cycles since then are as they should be.",
                ASKS);
        return new Finding(
                over.id(),
                over.revision(),
                over.step(),
                over.site(),
                over.machine(),
                over.gateway(),
                over.condition(),
                over.stage(),
                over.priority(),
                at,
                over.raisedAt(),
                over.causes(),
                over.measure(),
                over.limit(),
                over.summary(),
                over.detectorVersion(),
                over.policyVersion(),
                Inquiry.NONE);
    }
}
