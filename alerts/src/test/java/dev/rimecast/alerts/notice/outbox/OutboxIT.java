package dev.rimecast.alerts.notice.outbox;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.InPages;
import dev.rimecast.alerts.notice.Books;
import dev.rimecast.alerts.notice.outbox.Checkpoint.Step;
import dev.rimecast.alerts.notice.send.Message;
import dev.rimecast.alerts.notice.send.Outcome;
import dev.rimecast.alerts.view.NoticeView;
import dev.rimecast.alerts.view.Notices;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.log.EventKind;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.TestInstance.Lifecycle;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The outbox over a real database: alerts as they come, receivers that remember, a process that ends at any step. */
@TestInstance(Lifecycle.PER_CLASS)
class OutboxIT {
    private static final Person ADA = new Person("ada");

    @AutoClose
    private OutboxBench bench;

    private World world;
    private Inboxes inboxes;

    @BeforeAll
    void start() {
        bench = new OutboxBench(Books.desk());
        world = bench.world();
        inboxes = bench.inboxes();
    }

    @BeforeEach
    void empty() {
        bench.begin(Instant.parse("2026-11-25T12:00:00Z"));
    }

    @Test
    void alert_isTold_escalated_andItsEndGoesToBoth() {
        Finding raised = world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised");
        bench.pass(Duration.ofMinutes(31));
        bench.round();
        assertThat(inboxes.arrived("standby")).containsExactly("raised");

        world.clear(raised);
        bench.round();
        assertThat(inboxes.arrived("desk"))
                .as("over, but nobody has seen it: the case is open")
                .containsExactly("raised");
        world.acknowledgeAll();
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised", "over");
        assertThat(inboxes.arrived("standby")).containsExactly("raised", "over");
        Message told = inboxes.messages("desk").get(0);
        assertThat(told.content().subject())
                .isEqualTo("Please check: Site A, ice-0: Condensing temperature is too high (high)");
        assertThat(told.content().link()).startsWith("https://rimecast.example/cases#");
        assertThat(told.content().sections().get(1).title()).isEqualTo("What the site can check first");
        List<NoticeView> listed = bench.notices().list(1_000);
        List<NoticeView> oneByOne =
                InPages.all(after -> bench.notices().list(SiteScope.EVERY, after, 1), NoticeView::id);
        assertThat(oneByOne).isEqualTo(listed).hasSizeGreaterThanOrEqualTo(4);
    }

    @Test
    void counters_ofNotices_sayWhatCameOfAttempts_andWhatWaits() {
        double sent = bench.counted("sent");
        double retried = bench.counted("retried");
        double failed = bench.counted("failed");
        inboxes.answer("desk", new Outcome.Again("answered 500", Optional.empty()));
        world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();

        assertThat(bench.counted("retried") - retried).isEqualTo(1);
        Instant later = bench.now().plus(Duration.ofSeconds(90));
        assertThat(bench.backlog("notices.waiting", later)).isEqualTo(1);
        assertThat(bench.backlog("notices.waiting.seconds", later)).isEqualTo(90);
        assertThat(bench.backlog("open", later)).isEqualTo(1);

        inboxes.answer("desk", new Outcome.Sent("fine"));
        bench.pass(Duration.ofMinutes(10));
        bench.round();
        assertThat(bench.counted("sent") - sent).isEqualTo(1);
        assertThat(bench.backlog("notices.waiting", bench.now())).isZero();
        assertThat(bench.backlog("notices.waiting.seconds", bench.now())).isZero();
        assertThat(bench.counted("failed") - failed).isZero();

        inboxes.answer("desk", new Outcome.Refused("answered 400"));
        world.raise("site-b", "b-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();
        assertThat(bench.counted("failed") - failed).isEqualTo(1);
    }

    @Test
    void acknowledged_isNotEscalated() {
        world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();
        world.acknowledgeAll();
        bench.pass(Duration.ofHours(5));
        bench.round();
        assertThat(inboxes.arrived("standby")).isEmpty();
    }

    /** Seen, then another of the same case: the desk hears of it, and the colleague only if the desk does nothing. */
    @Test
    void anotherOfTheCaseAfterItWasSeen_isToldToTheDeskAgain_thenEscalated() {
        world.raise("site-a", "ice-0", Condition.LONG_FREEZE, Priority.HIGH, World.SCALE);
        bench.round();
        world.acknowledgeAll();
        bench.pass(Duration.ofHours(2));
        world.raise("site-a", "ice-1", Condition.LONG_FREEZE, Priority.HIGH, World.SCALE);
        bench.round();
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised", "worse");
        assertThat(inboxes.arrived("standby")).isEmpty();
        bench.pass(Duration.ofMinutes(31));
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised", "worse");
        assertThat(inboxes.arrived("standby")).containsExactly("raised");
    }

    @Test
    void twoMachinesWithOneCause_areToldOnce_andTheEndWaitsForBoth() {
        Finding first = world.raise("site-a", "ice-0", Condition.LONG_FREEZE, Priority.HIGH, World.SCALE);
        Finding second = world.raise("site-a", "ice-1", Condition.LONG_FREEZE, Priority.HIGH, World.SCALE);
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised");
        world.acknowledgeAll();
        world.clear(first);
        bench.round();
        assertThat(inboxes.arrived("desk")).as("the other one is still there").containsExactly("raised");
        world.clear(second);
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised", "over");
    }

    @Test
    void secondCauseInTheSameWeek_waitsForTheDigest_whichHasBoth() {
        world.raise("site-a", "ice-0", Condition.LONG_FREEZE, Priority.HIGH, World.SCALE);
        bench.round();
        world.raise("site-a", "ice-1", Condition.DRAIN_PUMP_OVERRUN, Priority.HIGH);
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised");
        bench.pass(Duration.ofHours(19));
        bench.round();
        assertThat(inboxes.arrived("desk")).containsExactly("raised", "digest");
        Message digest = inboxes.messages("desk").get(1);
        assertThat(digest.content().subject())
                .startsWith("Thursday 26 November 2026: ")
                .endsWith(", 2 open");
        bench.pass(Duration.ofDays(7));
        bench.round();
        assertThat(inboxes.arrived("desk").subList(2, 4)).containsExactlyInAnyOrder("digest", "raised");
    }

    @Test
    void digest_tellsOnceOfWorkThatHasNotHeld() {
        bench.pass(Duration.ofHours(1));
        Instant worked = Instant.parse("2026-11-24T09:00:00Z");
        world.notHeld("site-a", "ice-0", worked);
        bench.pass(Duration.ofHours(18));
        bench.round();
        bench.pass(Duration.ofHours(24));
        bench.round();

        List<Message> digests = inboxes.messages("desk").stream()
                .filter(m -> m.kind().equals("digest"))
                .toList();
        assertThat(digests).hasSize(2);
        assertThat(digests.get(0).content().sections()).singleElement().satisfies(section -> {
            assertThat(section.title()).isEqualTo("Work that has not held (1)");
            assertThat(section.lines().get(0).text())
                    .isEqualTo("ice-0, work of Tue 24 Nov, 09:00: It is back. Not held.");
        });
        assertThat(digests.get(1).content().sections()).as("told before").isEmpty();
    }

    @Test
    void digest_hasWhatNeedsADecisionFirst_thenTheRest_andCareLast() {
        Finding over = world.raise("site-c", "c-0", Condition.LONG_FREEZE, Priority.MEDIUM);
        world.raise("site-b", "b-0", Condition.LONG_FREEZE, Priority.MEDIUM);
        world.raise("site-a", "ice-0", Condition.STOPPED_BY_PROTECTION, Priority.URGENT);
        world.raise("site-a", "ice-1", Condition.CLEANING_DUE, Priority.LOW);
        world.acknowledge(over);
        world.clear(over);
        bench.pass(Duration.ofHours(19));
        bench.round();
        Message digest = inboxes.messages("desk").stream()
                .filter(m -> m.kind().equals("digest"))
                .findFirst()
                .orElseThrow();
        assertThat(digest.content().sections())
                .extracting(section -> section.title())
                .containsExactly("Needs a decision today (1)", "New (1)", "Over (1)", "Care due (1)");
        assertThat(digest.content().subject()).isEqualTo("Thursday 26 November 2026: 1 needs a decision today, 2 open");
        assertThat(digest.content().sections().get(0).lines().get(0).text())
                .startsWith("Site A, ice-0: Stopped by its own protection. Act by Thu 26 Nov, 12:00.");
    }

    @Test
    void digest_namesWhatIsClosed_forNobodyIsToldOfIt() {
        bench.pass(Duration.ofHours(1));
        world.happened("site-b", Optional.empty(), EventKind.CLOSED_FROM);
        world.happened("site-a", Optional.of("ice-0"), EventKind.CLOSED_FROM);
        world.happened("site-c", Optional.empty(), EventKind.CLOSED_FROM);
        world.happened("site-c", Optional.empty(), EventKind.CLOSED_TO);
        bench.pass(Duration.ofHours(18));
        bench.round();

        assertThat(inboxes.messages("desk").get(0).content().sections())
                .singleElement()
                .satisfies(section -> {
                    assertThat(section.title()).isEqualTo("Closed by their own word (2)");
                    assertThat(section.lines().get(0).text()).startsWith("Site A, ice-0, since Wed 25 Nov, ");
                    assertThat(section.lines().get(1).text()).startsWith("Site B, since Wed 25 Nov, ");
                });
    }

    @Test
    void receiverThatIsGone_isClosed_andATestOpensItAgain() {
        inboxes.answer("desk", new Outcome.Gone("answered 410"));
        world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.round();
        Notices notices = bench.notices();
        assertThat(notices.receivers().get(0).closed()).contains("answered 410");
        NoticeView failed = notices.list(1).get(0);
        assertThat(failed.state()).isEqualTo("failed");
        assertThat(notices.retry(failed.id(), ADA)).isInstanceOf(Notices.Outcome.NotAllowed.class);

        inboxes.answer("desk", new Outcome.Sent("fine"));
        assertThat(notices.test("desk", ADA)).isInstanceOf(Notices.Outcome.Done.class);
        bench.round();
        assertThat(notices.receivers().get(0).closed()).isEmpty();
        assertThat(notices.retry(failed.id(), ADA)).isInstanceOf(Notices.Outcome.Done.class);
        bench.round();
        NoticeView sent = notices.notice(failed.id()).orElseThrow();
        assertThat(sent.state()).isEqualTo("sent");
        assertThat(sent.log())
                .extracting(NoticeView.Attempt::outcome)
                .containsExactly("failed", "tried again by hand", "sent");
        assertThat(sent.text().orElseThrow()).contains("Machine: ice-0");
    }

    @Test
    void receiverThatFails_isTriedTwelveTimes_thenGivenUp() {
        inboxes.answer("desk", new Outcome.Again("answered 500", Optional.empty()));
        world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        world.acknowledgeAll();
        for (int i = 0; i < 40; i++) {
            bench.round();
            bench.pass(Duration.ofHours(15));
        }
        List<NoticeView> raised = bench.notices().list(100).stream()
                .filter(n -> n.kind().equals("raised"))
                .toList();
        assertThat(raised).singleElement().satisfies(n -> {
            assertThat(n.state()).isEqualTo("failed");
            assertThat(n.attempts()).isEqualTo(12);
        });
        assertThat(inboxes.messages("desk").stream()
                        .filter(m -> m.kind().equals("raised"))
                        .map(Message::id)
                        .distinct())
                .hasSize(1);
    }

    /** The process ends once at each step, and goes on: what arrives is the same, a repeat has the same id and content. */
    @ParameterizedTest
    @EnumSource(Step.class)
    void processEndsAtAStep_nothingIsLost_andRepeatsAreTheSame(Step step) {
        bench.dieOnceAt(step);
        Finding raised = world.raise("site-a", "ice-0", Condition.HIGH_CONDENSING_TEMPERATURE, Priority.HIGH);
        bench.roundOrDie();
        bench.pass(Duration.ofMinutes(3));
        bench.round();
        world.acknowledgeAll();
        world.clear(raised);
        bench.round();
        bench.pass(Duration.ofHours(19));
        bench.roundOrDie();
        bench.pass(Duration.ofMinutes(3));
        bench.round();

        assertThat(bench.died()).as("the step is one that is taken").isTrue();
        assertThat(inboxes.distinct("desk")).containsExactly("raised", "over", "digest");
        boolean isSentTwice = step == Step.SENT || step == Step.RESULT_WRITTEN;
        assertThat(inboxes.messages("desk")).hasSize(isSentTwice ? 4 : 3);
        if (isSentTwice) {
            Message first = inboxes.messages("desk").get(0);
            Message repeat = inboxes.messages("desk").get(1);
            assertThat(repeat.id()).isEqualTo(first.id());
            assertThat(repeat.content()).isEqualTo(first.content());
        }
    }
}
