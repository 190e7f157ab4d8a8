package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.life.Findings.finding;
import static dev.rimecast.alerts.life.Findings.next;
import static dev.rimecast.alerts.life.Findings.raised;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.life.Findings;
import dev.rimecast.alerts.view.Action.Acknowledge;
import dev.rimecast.alerts.view.Action.Assign;
import dev.rimecast.alerts.view.Action.Reset;
import dev.rimecast.alerts.view.Action.Shelve;
import dev.rimecast.alerts.view.Action.TakeOutOfService;
import dev.rimecast.alerts.view.Actions.HoldOutcome;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.Hold;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.SiteRecord.Pack;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import org.jdbi.v3.core.Jdbi;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The life of alerts on a real database: holds of each kind, latching, and what the database refuses. */
class LifeIT extends StageBench {
    private static final Person ADA = new Person("ada");

    @BeforeAll
    void start() {
        know(register("ice-1", "ice-2", "ice-3", "ice-4", "ice-5", "ice-6", "ice-7"));
    }

    @Test
    void shelved_untilItsEnd_isPausedAndThenNewAgain() {
        AlertView alert = raise(raised("ice-1", Condition.LONG_FREEZE, NOON));
        UUID id = alert.finding().id();
        Instant until = now.plus(Duration.ofHours(2));

        assertThat(act(alert, new Shelve("part ordered", now))).isInstanceOf(Outcome.NotAllowed.class);
        assertThat(act(alert, new Shelve("part ordered", now.plus(Duration.ofDays(15)))))
                .as("longer than life.yaml allows")
                .isInstanceOf(Outcome.NotAllowed.class);
        Outcome done = act(alert, new Shelve("part ordered", until));

        assertThat(done).isInstanceOfSatisfying(Outcome.Done.class, d -> {
            assertThat(d.alert().state()).isEqualTo(AlertState.SHELVED);
            assertThat(d.alert().hold()).hasValueSatisfying(hold -> {
                assertThat(hold.until()).contains(until);
                assertThat(hold.why()).isEqualTo("part ordered");
                assertThat(hold.who()).isEqualTo("ada");
            });
        });
        Finding second = raised("ice-1", Condition.LONG_FREEZE, NOON.plusSeconds(90));
        engines.send(second);
        awaitState(second.id(), AlertState.SHELVED);
        awaitState(id, AlertState.NORMAL);

        now = until;
        AlertView again = awaitState(second.id(), AlertState.UNACKNOWLEDGED);
        assertThat(again.hold()).isEmpty();
        assertThat(whats(again)).containsExactly("raised while shelved", "counts again");
        assertThat(events(second.id())).containsExactly("alert.raised-while-shelved", "alert.counts-again");
    }

    @Test
    void assigned_toSomebody_isTheirsUntilItIsOver() {
        AlertView alert = raise(raised("ice-1", Condition.SLOW_FILL, NOON));
        UUID id = alert.finding().id();

        Outcome given = act(alert, new Assign(Optional.of("Pim"), "has the key"));

        AlertView theirs = ((Outcome.Done) given).alert();
        assertThat(theirs.assignee()).contains("Pim");
        assertThat(theirs.state()).as("nobody has said that it was seen").isEqualTo(AlertState.UNACKNOWLEDGED);
        assertThat(act(alert, new Assign(Optional.of("Kim"), "")))
                .as("somebody was faster")
                .isInstanceOf(Outcome.Changed.class);
        assertThat(act(theirs, new Assign(Optional.of("Pim"), ""))).isInstanceOf(Outcome.NotAllowed.class);
        AlertView nobodys = ((Outcome.Done) act(theirs, new Assign(Optional.empty(), ""))).alert();
        assertThat(nobodys.assignee()).isEmpty();
        assertThat(nobodys.audit()).extracting(AuditLine::what).endsWith("assigned", "unassigned");
        assertThat(nobodys.audit()).extracting(AuditLine::why).endsWith("to Pim: has the key", "");
        assertThat(events(id)).endsWith("alert.assigned", "alert.unassigned");
    }

    @Test
    void numbersThatDecided_ofTheRaise_areKeptWithTheAlertThroughItsEnd() {
        Ground limit = new Ground("limits.condensing_celsius", 58, "Cel", Ground.Source.REGISTER);
        Finding raise =
                raised("ice-3", Condition.LONG_HARVEST, NOON.plusSeconds(3)).withGrounds(List.of(limit));
        raise(raise);

        engines.send(Findings.next(raise, Step.CLEARED, raise.stage(), raise.priority()));
        AlertView over = awaitState(raise.id(), AlertState.RETURNED_UNACKNOWLEDGED);

        assertThat(over.finding().grounds()).containsExactly(limit);
        assertThat(stage.views().raised(raise.id())).contains(raise);
        assertThat(stage.views().raised(UUID.randomUUID())).isEmpty();
    }

    @Test
    void note_ofAnAlert_isInTheAuditForGoodAndChangesNothingElse() {
        AlertView alert = raise(raised("ice-2", Condition.SLOW_FILL, NOON));
        UUID id = alert.finding().id();
        List<String> before = events(id);

        Outcome noted = stage.actions().comment(id, ADA, "The bar opens at five.");

        assertThat(noted).isInstanceOfSatisfying(Outcome.Done.class, done -> {
            assertThat(done.alert().version()).isEqualTo(alert.version());
            assertThat(done.alert().audit()).last().satisfies(line -> {
                assertThat(line.who()).isEqualTo("ada");
                assertThat(line.what()).isEqualTo("noted");
                assertThat(line.why()).isEqualTo("The bar opens at five.");
            });
        });
        assertThat(events(id)).isEqualTo(before);
        assertThat(stage.actions().comment(UUID.randomUUID(), ADA, "x")).isInstanceOf(Outcome.NoSuchAlert.class);
    }

    @Test
    void suppressed_whileTheBinIsFull_countsAgainAsSeenBefore() {
        AlertView alert = raise(raised("ice-2", Condition.LOW_OUTPUT, NOON));
        UUID id = alert.finding().id();
        assertThat(act(alert, new Acknowledge(""))).isInstanceOf(Outcome.Done.class);

        say("ice-2", Channel.BIN_FULL, 1, NOON.plusSeconds(30));
        AlertView suppressed = awaitState(id, AlertState.SUPPRESSED_BY_DESIGN);
        assertThat(suppressed.hold()).hasValueSatisfying(hold -> {
            assertThat(hold.kind()).isEqualTo(Hold.Kind.SUPPRESSED);
            assertThat(hold.why()).isEqualTo("the bin is full");
        });
        assertThat(stage.actions().endHold(suppressed.hold().orElseThrow().id(), ADA, "no"))
                .as("only its rule ends it")
                .isInstanceOf(HoldOutcome.NotAllowed.class);

        say("ice-2", Channel.BIN_FULL, 0, NOON.plusSeconds(60));
        AlertView back = awaitState(id, AlertState.ACKNOWLEDGED);
        assertThat(back.acknowledgedBy()).contains("ada");
        assertThat(whats(back))
                .containsExactly("raised", "acknowledged", "suppressed by design", "counts again, seen before");
    }

    @Test
    void gatewayDown_machineSilentRaised_isSuppressedFromItsRaiseAndCountsAfterwards() {
        Finding gateway = gatewaySilent("gateway-a", NOON);
        raise(gateway);
        Finding silent = raised("ice-3", Condition.MACHINE_SILENT, NOON.plusSeconds(5));
        engines.send(silent);

        AlertView alert = awaitState(silent.id(), AlertState.SUPPRESSED_BY_DESIGN);
        assertThat(whats(alert)).containsExactly("raised while suppressed-by-design");

        engines.send(over(gateway));
        awaitState(silent.id(), AlertState.UNACKNOWLEDGED);
    }

    @Test
    void silence_siteClosedOrUsuallyOff_isSaidSo() {
        Finding silent = raised("ice-6", Condition.MACHINE_SILENT, NOON.plusSeconds(7));
        AlertView alone = raise(silent);
        assertThat(alone.silence())
                .hasValueSatisfying(words -> assertThat(words).contains("no power"));

        report(EventKind.CLOSED_FROM, NOON.plusSeconds(60));
        AlertView closed = awaitState(silent.id(), AlertState.SUPPRESSED_BY_DESIGN);
        assertThat(closed.hold())
                .hasValueSatisfying(hold -> assertThat(hold.why()).isEqualTo("the site is closed"));
        assertThat(closed.silence()).contains("The site is closed, as it said.");
        report(EventKind.CLOSED_TO, NOON.plusSeconds(120));
        awaitState(silent.id(), AlertState.UNACKNOWLEDGED);

        for (int day = 6; day >= 1; day--) {
            Finding night = raised("ice-7", Condition.MACHINE_SILENT, NOON.minus(Duration.ofDays(day)));
            engines.send(night);
            Finding over = finding(
                    "ice-7",
                    Condition.MACHINE_SILENT,
                    night.raisedAt(),
                    600,
                    Step.CLEARED,
                    Stage.EARLY,
                    Priority.MEDIUM);
            engines.send(over);
        }
        Finding tonight = raised("ice-7", Condition.MACHINE_SILENT, NOON.plusSeconds(9));
        engines.send(tonight);
        AlertView usual = awaitState(tonight.id(), AlertState.SUPPRESSED_BY_DESIGN);
        assertThat(usual.silence()).contains("It is usually off at this time.");
    }

    private void report(EventKind kind, Instant at) {
        stage.siteEvents().report(new Happened(at, Optional.of("ice-6"), kind, "season", "desk", ""), "site-a");
    }

    @Test
    void outOfService_wholeMachine_holdsWhatIsThereAndWhatComesUntilReturned() {
        AlertView alert = raise(raised("ice-4", Condition.LONG_FREEZE, NOON));
        TakeOutOfService repair = new TakeOutOfService("compressor is being changed", "head of service");

        HoldOutcome taken = stage.actions().takeOutOfService("ice-4", ADA, repair);
        assertThat(taken).isInstanceOf(HoldOutcome.Done.class);
        assertThat(stage.actions().takeOutOfService("ice-4", ADA, repair)).isInstanceOf(HoldOutcome.NotAllowed.class);
        assertThat(stage.actions().takeOutOfService("ice-99", ADA, repair)).isEqualTo(new HoldOutcome.NotFound());
        awaitState(alert.finding().id(), AlertState.OUT_OF_SERVICE);
        Finding later = raised("ice-4", Condition.SLOW_FILL, NOON.plusSeconds(40));
        engines.send(later);
        awaitState(later.id(), AlertState.OUT_OF_SERVICE);
        Hold hold = ((HoldOutcome.Done) taken).hold();
        assertThat(stage.views().holds()).contains(hold);

        assertThat(stage.actions().endHold(hold.id(), ADA, "runs again")).isInstanceOf(HoldOutcome.Done.class);
        awaitState(later.id(), AlertState.UNACKNOWLEDGED);
        awaitState(alert.finding().id(), AlertState.UNACKNOWLEDGED);
        assertThat(stage.actions().endHold(hold.id(), ADA, "again")).isInstanceOf(HoldOutcome.NotAllowed.class);
        assertThat(record(hold.id())).isEqualTo("ada head of service ada runs again");
    }

    @Test
    void latching_overByItself_waitsForAReset() {
        Finding stopped =
                finding("ice-5", Condition.STOPPED_BY_PROTECTION, NOON, 1, Step.RAISED, Stage.STOPPED, Priority.HIGH);
        AlertView alert = raise(stopped);
        assertThat(act(alert, new Reset(""))).isInstanceOf(Outcome.NotAllowed.class);

        engines.send(next(stopped, Step.CLEARED, Stage.STOPPED, Priority.HIGH));
        AlertView latched = awaitState(stopped.id(), AlertState.LATCHED_UNACKNOWLEDGED);
        assertThat(act(latched, new Acknowledge(""))).isInstanceOf(Outcome.Done.class);
        AlertView seen = awaitState(stopped.id(), AlertState.LATCHED_ACKNOWLEDGED);
        assertThat(act(seen, new Reset("condenser was covered"))).isInstanceOf(Outcome.Done.class);

        assertThat(whats(awaitState(stopped.id(), AlertState.NORMAL)))
                .containsExactly("raised", "latched", "acknowledged", "reset");
    }

    /** Random pairs of states straight into the table: the database lets through what ISA-18.2 does, and nothing else. */
    @Test
    void database_anyStepPastTheRules_isRefused() {
        AlertView alert = raise(raised("ice-1", Condition.SLOW_PULL_DOWN, NOON));
        UUID id = alert.finding().id();
        List<String> illegal = List.of(
                "normal>acknowledged",
                "normal>latched-acknowledged",
                "unacknowledged>latched-acknowledged",
                "acknowledged>returned-unacknowledged",
                "acknowledged>latched-unacknowledged",
                "returned-unacknowledged>acknowledged",
                "returned-unacknowledged>latched-unacknowledged",
                "latched-unacknowledged>acknowledged",
                "latched-acknowledged>acknowledged",
                "latched-acknowledged>returned-unacknowledged",
                "shelved>acknowledged",
                "shelved>returned-unacknowledged",
                "suppressed-by-design>returned-unacknowledged",
                "out-of-service>acknowledged");
        Random random = new Random(11);
        for (String step : illegal) {
            String[] states = step.split(">", -1);
            Jdbi jdbi = engines.jdbi();
            assertThatThrownBy(() -> jdbi.useTransaction(handle -> {
                        handle.execute("alter table alert disable trigger alert_legal_step");
                        set(handle, id, states[0], random);
                        handle.execute("alter table alert enable trigger alert_legal_step");
                        set(handle, id, states[1], random);
                    }))
                    .as(step)
                    .hasMessageContaining("can't go from " + states[0] + " to " + states[1]);
        }
        assertThatThrownBy(() -> engines.jdbi().useHandle(h -> h.execute("delete from alert_hold")))
                .hasMessageContaining("record");
        assertThatThrownBy(() -> engines.jdbi().useHandle(h -> h.execute("truncate alert_audit")))
                .hasMessageContaining("append-only");
    }

    private static void set(org.jdbi.v3.core.Handle handle, UUID id, String state, Random random) {
        boolean seen = state.equals("acknowledged") || (state.equals("suppressed-by-design") && random.nextBoolean());
        boolean over = state.equals("normal") || state.startsWith("returned") || state.startsWith("latched");
        handle.createUpdate("update alert set state = :state, seen_stage = :seen, seen_priority = :seen,"
                        + " cleared_at = case when :over then now() end where id = :id")
                .bind("state", state)
                .bind("seen", seen ? Optional.of("early") : Optional.empty())
                .bind("over", over)
                .bind("id", id)
                .execute();
    }

    private Outcome act(AlertView alert, dev.rimecast.alerts.view.Action action) {
        return stage.actions().act(alert.finding().id(), alert.version(), ADA, action);
    }

    private AlertView raise(Finding finding) {
        engines.send(finding);
        return await().until(() -> stage.views().alert(finding.id()), Optional::isPresent)
                .orElseThrow();
    }

    private AlertView awaitState(UUID id, AlertState state) {
        return await().until(
                        () -> stage.views().alert(id),
                        alert -> alert.map(AlertView::state).equals(Optional.of(state)))
                .orElseThrow();
    }

    private void say(String machine, Channel channel, double value, Instant at) {
        List<Reading> readings = List.of(
                Reading.number(machine, channel, at.toEpochMilli(), value),
                Reading.phase(machine, at.toEpochMilli(), Phase.FREEZE));
        engines.send("site-a", new Pack("gateway-a", Optional.empty(), at, readings, 0));
    }

    private static List<String> whats(AlertView alert) {
        return alert.audit().stream().map(AlertView.AuditLine::what).toList();
    }

    private List<String> events(UUID alert) {
        return engines.jdbi()
                .withHandle(h -> h.createQuery("select kind from alert_event where alert = :id order by sequence")
                        .bind("id", alert)
                        .mapTo(String.class)
                        .list());
    }

    private String record(UUID hold) {
        return engines.jdbi()
                .withHandle(
                        h -> h.createQuery("select who || ' ' || permitted_by || ' ' || ended_by || ' ' || ended_why"
                                        + " from alert_hold where id = :id")
                                .bind("id", hold)
                                .mapTo(String.class)
                                .one());
    }

    static Finding gatewaySilent(String gateway, Instant at) {
        return gateway(gateway, at, 1, Step.RAISED);
    }

    static Finding over(Finding gatewaySilent) {
        return gateway(gatewaySilent.gateway().orElseThrow(), gatewaySilent.raisedAt(), 2, Step.CLEARED);
    }

    private static Finding gateway(String gateway, Instant at, int revision, Step step) {
        return new Finding(
                Finding.idOf("gateway:" + gateway, Condition.GATEWAY_SILENT, at),
                revision,
                step,
                "site-a",
                Optional.empty(),
                Optional.of(gateway),
                Condition.GATEWAY_SILENT,
                Stage.STOPPED,
                Priority.MEDIUM,
                at.plusSeconds(revision),
                at,
                List.of(new Finding.ProbableCause(Cause.GATEWAY_LINK_DOWN, 0.9, List.of(), List.of())),
                Optional.empty(),
                Optional.empty(),
                "Nothing is heard.",
                "detector-1",
                "policy-1");
    }
}
