package dev.rimecast.alerts;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.tuple;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.policy.PolicyChange;
import dev.rimecast.alerts.policy.PolicyTrial;
import dev.rimecast.alerts.register.PolicyDesk;
import dev.rimecast.alerts.register.PolicyDesk.Outcome;
import dev.rimecast.alerts.register.RegisterImport.Brought;
import dev.rimecast.alerts.view.Mark;
import dev.rimecast.alerts.view.Mark.Verdict;
import dev.rimecast.alerts.view.Marks;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.log.SiteRecord.PolicyActivated;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import dev.rimecast.telemetry.machine.Site;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Policies that people put into force, take back and try, and what they mark of the past, over a real database and Kafka. */
class PolicyIT {
    private static final Instant NOON = Instant.parse("2026-05-04T12:00:00Z");
    private static final InstantSource CLOCK = InstantSource.fixed(NOON);
    private static final Person ANA = new Person("Ana");
    private static final Register TWO_SITES = new Register(
            List.of(Machine.basic("ice-1", "north", "gw-n"), Machine.basic("ice-2", "south", "gw-s")),
            List.of(Site.basic("north"), Site.basic("south")));

    private Engines engines;
    private AlertsStage stage;

    @BeforeEach
    void start() {
        Awaitility.setDefaultTimeout(Duration.ofSeconds(60));
        engines = new Engines();
        stage = engines.startStage(CLOCK);
        bring("v1", "a: 1", false);
    }

    @AfterEach
    void stop() {
        stage.close();
        engines.close();
    }

    /** One after the other on one server, since starting it takes longest. */
    @Test
    void policies_areChangedAndTakenBack_outliveStarts_andAreTried_andMarksAreKept() {
        changeIsInEverySitesLogAndIsTakenBackUnderItsOldName();
        startBringsAFileThatHasChangedAndNothingElse();
        trialIsOneAtATimeOutlivesAStopAndEndsInForceOrNot();
        marksAreKeptForGoodAndOnlySomeCount();
    }

    private void marksAreKeptForGoodAndOnlySomeCount() {
        Marks marks = stage.marks();
        SiteScope north = SiteScope.of(List.of("north"));
        Mark first = marks.add(SiteScope.EVERY, said("ice-1", "north", Verdict.REAL, Optional.of(Cause.SCALE)), ANA)
                .orElseThrow();
        Mark second = marks.add(SiteScope.EVERY, said("ice-1", "north", Verdict.NOT, Optional.empty()), ANA)
                .orElseThrow();
        Mark ofBen = marks.add(
                        SiteScope.EVERY, said("ice-1", "north", Verdict.REAL, Optional.empty()), new Person("Ben"))
                .orElseThrow();
        Mark south = marks.add(SiteScope.EVERY, said("ice-2", "south", Verdict.UNKNOWN, Optional.empty()), ANA)
                .orElseThrow();
        assertThat(first.said()).isEqualTo(said("ice-1", "north", Verdict.REAL, Optional.of(Cause.SCALE)));
        assertThat(first.at()).isEqualTo(NOON);

        assertThat(marks.add(north, said("ice-2", "south", Verdict.NOT, Optional.empty()), ANA))
                .isEmpty();
        assertThat(marks.withdraw(north, south.id(), ANA)).isFalse();
        assertThat(marks.withdraw(SiteScope.EVERY, first.id(), ANA))
                .as("counts no longer already")
                .isFalse();
        assertThat(marks.withdraw(north, ofBen.id(), ANA)).isTrue();
        assertThat(marks.withdraw(north, ofBen.id(), ANA)).as("twice").isFalse();

        assertThat(marks.standing(SiteScope.EVERY)).extracting(Mark::id).containsExactly(second.id(), south.id());
        assertThat(marks.standing(north)).extracting(Mark::id).containsExactly(second.id());
        assertThat(marks.list(SiteScope.EVERY, Optional.of("ice-1"), 10))
                .extracting(Mark::id, Mark::state, mark -> mark.withdrawn().map(Mark.Withdrawn::by))
                .containsExactly(
                        tuple(ofBen.id(), Mark.State.WITHDRAWN, Optional.of("Ana")),
                        tuple(second.id(), Mark.State.STANDING, Optional.empty()),
                        tuple(first.id(), Mark.State.SUPERSEDED, Optional.empty()));
        assertThat(marks.list(north, Optional.empty(), 2))
                .extracting(Mark::id)
                .containsExactly(ofBen.id(), second.id());
        for (String change : List.of("delete from mark_withdrawn", "update mark set note = 'x'")) {
            assertThatThrownBy(() -> engines.jdbi().useHandle(h -> h.execute(change)))
                    .hasMessageContaining("mark");
        }
    }

    private static Mark.Said said(String machine, String site, Verdict verdict, Optional<Cause> cause) {
        return new Mark.Said(
                machine,
                site,
                cause.map(known -> UUID.fromString("7d3c0f7e-8a57-4d0e-9a3e-0c7c2b9a1f01")),
                NOON.minus(Duration.ofDays(3)),
                NOON.minus(Duration.ofDays(2)),
                verdict,
                cause,
                "seen on the plots");
    }

    private void changeIsInEverySitesLogAndIsTakenBackUnderItsOldName() {
        PolicyDesk desk = stage.policies();
        Outcome put = desk.put(1, name -> "version: " + name, ANA, "fewer calls at night");
        awaitEmptyOutbox();

        assertThat(put).isEqualTo(new Outcome.Done(desk.current().orElseThrow()));
        assertThat(desk.current().orElseThrow())
                .isEqualTo(new PolicyChange(
                        2,
                        "firm-2",
                        "version: firm-2",
                        PolicyChange.Source.PERSON,
                        NOON,
                        "Ana",
                        "fewer calls at night",
                        Optional.empty(),
                        Optional.empty()));
        PolicyActivated firm2 = new PolicyActivated(NOON, "firm-2", "version: firm-2");
        for (String site : List.of("north", "south")) {
            assertThat(engines.siteLog(site)).endsWith(firm2);
        }

        assertThat(desk.put(1, name -> "version: late", ANA, "too late")).isInstanceOf(Outcome.Changed.class);
        assertThat(desk.rollBack(2, 2, ANA, "to itself")).isInstanceOf(Outcome.Unknown.class);
        assertThat(desk.rollBack(2, 7, ANA, "to none")).isInstanceOf(Outcome.Unknown.class);
        assertThat(desk.rollBack(2, 1, ANA, "it was worse")).isInstanceOf(Outcome.Done.class);
        awaitEmptyOutbox();

        assertThat(engines.siteLog("south")).endsWith(new PolicyActivated(NOON, "v1", "a: 1"));
        assertThat(desk.changes())
                .extracting(PolicyChange::number, PolicyChange::version, PolicyChange::restores)
                .containsExactly(
                        tuple(3, "v1", Optional.of(1)),
                        tuple(2, "firm-2", Optional.empty()),
                        tuple(1, "v1", Optional.empty()));
        assertThat(desk.rollBack(3, 1, ANA, "twice")).isInstanceOf(Outcome.Same.class);
        assertThatThrownBy(() -> engines.jdbi().useHandle(h -> h.execute("delete from policy_change")))
                .hasMessageContaining("policy_change");
    }

    /** Whoever changed thresholds while the server ran must not find them gone after its next start. */
    private void startBringsAFileThatHasChangedAndNothingElse() {
        PolicyDesk desk = stage.policies();
        desk.put(3, name -> "version: " + name, ANA, "r");

        bring("v1", "a: 1", false);
        assertThat(desk.current().orElseThrow().version()).isEqualTo("firm-4");
        bring("v2", "a: 2", false);
        assertThat(desk.current().orElseThrow().version())
                .as("another policy of the product")
                .isEqualTo("firm-4");
        Register withEast = new Register(List.of(Machine.basic("ice-9", "east", "gw-e")), List.of(Site.basic("east")));
        stage.registerImport().apply(withEast, new Brought("v2", "a: 2", false));
        awaitEmptyOutbox();
        assertThat(engines.siteLog("east").get(0))
                .as("a new site gets the one in force")
                .isEqualTo(new PolicyActivated(NOON, "firm-4", "version: firm-4"));

        bring("mine", "a: 3", true);
        assertThat(desk.current().orElseThrow())
                .extracting(PolicyChange::version, PolicyChange::source)
                .containsExactly("mine", PolicyChange.Source.FILE);
        desk.put(5, name -> "version: " + name, ANA, "r");
        bring("mine", "a: 3", true);
        assertThat(desk.current().orElseThrow().version()).isEqualTo("firm-6");
        desk.rollBack(6, 1, ANA, "as the product has it");
        bring("v2", "a: 2", false);
        assertThat(desk.current().orElseThrow().version())
                .as("somebody chose the old text")
                .isEqualTo("v1");
    }

    private void trialIsOneAtATimeOutlivesAStopAndEndsInForceOrNot() {
        awaitEmptyOutbox();
        int records = engines.siteLog("north").size();
        assertThat(stage.policies().tryOut("version: t", NOON.minusSeconds(60), ANA, "is it calmer?"))
                .isPresent();
        stage.close();
        stage = engines.startStage(CLOCK);
        PolicyDesk desk = stage.policies();

        PolicyTrial running = desk.trials().get(0);
        assertThat(running)
                .isEqualTo(new PolicyTrial(
                        1, "version: t", 7, NOON, "Ana", "is it calmer?", NOON.minusSeconds(60), Optional.empty()));
        assertThat(desk.tryOut("version: u", NOON, ANA, "another")).isEmpty();
        assertThat(engines.siteLog("north"))
                .as("nothing of a trial reaches the log")
                .hasSize(records);

        assertThat(desk.promote(1, 9, name -> "version: " + name, "{}", ANA, "calmer"))
                .isInstanceOf(Outcome.Changed.class);
        assertThat(desk.trial(1).orElseThrow().isRunning()).isTrue();
        assertThat(desk.promote(1, 7, name -> "version: " + name, "{\"only\":2}", ANA, "calmer"))
                .isInstanceOf(Outcome.Done.class);
        assertThat(desk.trial(1).orElseThrow().ended())
                .contains(new PolicyTrial.Ended(NOON, "Ana", "calmer", PolicyTrial.Outcome.PROMOTED, "{\"only\":2}"));
        assertThat(desk.current().orElseThrow().trial()).contains(1);
        awaitEmptyOutbox();
        SiteRecord last = engines.siteLog("north").get(engines.siteLog("north").size() - 1);
        assertThat(last).isEqualTo(new PolicyActivated(NOON, "firm-8", "version: firm-8"));

        assertThat(desk.promote(1, 8, name -> "version: x", "{}", ANA, "again")).isInstanceOf(Outcome.Unknown.class);
        assertThat(desk.current().orElseThrow().number()).isEqualTo(8);
        assertThat(desk.drop(1, "{}", ANA, "r")).isFalse();
        assertThat(desk.tryOut("version: u", NOON, ANA, "another")).isPresent();
        assertThat(desk.drop(2, "{}", ANA, "noisier")).isTrue();
    }

    private void bring(String version, String yaml, boolean isFile) {
        stage.registerImport().apply(TWO_SITES, new Brought(version, yaml, isFile));
    }

    private void awaitEmptyOutbox() {
        await().until(() -> engines.jdbi()
                        .withHandle(h -> h.createQuery("select count(*) from log_outbox")
                                .mapTo(Integer.class)
                                .one())
                == 0);
    }
}
