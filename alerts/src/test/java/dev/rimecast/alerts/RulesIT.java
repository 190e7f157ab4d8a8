package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static dev.rimecast.alerts.life.Findings.finding;
import static dev.rimecast.alerts.life.Findings.raised;
import static dev.rimecast.alerts.life.Findings.withCause;
import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.rules.Book;
import dev.rimecast.alerts.rules.RuleDesk;
import dev.rimecast.alerts.rules.RuleDesk.Check;
import dev.rimecast.alerts.rules.RuleDesk.Outcome;
import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions;
import dev.rimecast.alerts.view.AlertState;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Rules that are changed while the stage runs, on a real database. */
class RulesIT extends StageBench {
    private static final Person ADA = new Person("ada");

    @BeforeAll
    void start() {
        know(register("ice-1", "ice-2", "ice-3", "ice-4", "ice-5", "ice-6", "ice-7", "ice-8"));
    }

    /** The manager's question: why is it what it is, and what if the rule were another? */
    @Test
    void priority_ruleAdded_judgesOpenAlertsAgainAndSaysWhy() {
        AlertView before = raise(raised("ice-1", Condition.SLOW_FILL, NOON));
        AlertView care = raise(raised("ice-1", Condition.CLEANING_DUE, NOON));
        UUID id = before.finding().id();
        Actions.Outcome seen = stage.actions().act(id, before.version(), ADA, new Action.Acknowledge(""));
        assertThat(seen).isInstanceOf(Actions.Outcome.Done.class);
        String own = Book.PRIORITY.standardText()
                + "  - {words: Hospitals first., when: {conditions: [slow-fill]}, priority: urgent}\n";

        Check check = stage.rules().check(Book.PRIORITY, own);
        // other tests leave open alerts on other machines
        assertThat(check.effect().orElseThrow().changes())
                .filteredOn(change -> change.machine().equals("ice-1"))
                .singleElement()
                .satisfies(change -> {
                    assertThat(change.alert()).isEqualTo(id);
                    assertThat(change.from()).isEqualTo(Priority.MEDIUM);
                    assertThat(change.to()).isEqualTo(Priority.URGENT);
                    assertThat(change.why()).isEqualTo("Hospitals first.");
                });
        assertThat(alert(id).priority()).as("a check changes nothing").isEqualTo(Priority.MEDIUM);

        int version = stage.rules().current(Book.PRIORITY).version();
        assertThat(stage.rules().save(Book.PRIORITY, version, own, ADA, "agreed on Monday"))
                .isInstanceOf(Outcome.Done.class);
        await().untilAsserted(() -> assertThat(alert(id).priority()).isEqualTo(Priority.URGENT));
        AlertView after = alert(id);
        assertThat(after.priorityWhy()).isEqualTo("Hospitals first.");
        assertThat(after.state()).as("more urgent than when it was seen").isEqualTo(AlertState.UNACKNOWLEDGED);
        assertThat(after.audit())
                .anyMatch(line -> line.why().equals("urgent: Hospitals first. (the rules were changed)"));
        assertThat(alert(care.finding().id()).priority()).isEqualTo(care.priority());

        stage.rules().rollBack(Book.PRIORITY, version + 1, 0, ADA, "it was too much");
        await().untilAsserted(() -> assertThat(alert(id).priority()).isEqualTo(Priority.MEDIUM));
        assertThat(alert(id).priorityWhy()).isEmpty();
    }

    @Test
    void priority_changed_decidesTheNextFinding() {
        String own = Book.PRIORITY.standardText()
                + "  - {words: Floors are expensive., when: {conditions: [drain-pump-overrun]}, priority: high}\n";
        int version = stage.rules().current(Book.PRIORITY).version();
        stage.rules().save(Book.PRIORITY, version, own, ADA, "a flood in March");

        AlertView next = raise(raised("ice-2", Condition.DRAIN_PUMP_OVERRUN, NOON));

        assertThat(next.priority()).isEqualTo(Priority.HIGH);
        assertThat(next.priorityWhy()).isEqualTo("Floors are expensive.");
        stage.rules().rollBack(Book.PRIORITY, version + 1, 0, ADA, "over");
    }

    @Test
    void life_latchingAdded_holdsWhatEndsFromThenOn() {
        Finding first = raised("ice-3", Condition.HIGH_CONDENSING_TEMPERATURE, NOON);
        raise(first);
        int version = stage.rules().current(Book.LIFE).version();
        stage.rules()
                .save(
                        Book.LIFE,
                        version,
                        Book.LIFE
                                .standardText()
                                .replace(
                                        "[stopped-by-protection]",
                                        "[stopped-by-protection, high-condensing-temperature]"),
                        ADA,
                        "somebody should look each time");

        raise(finding(
                "ice-3", Condition.HIGH_CONDENSING_TEMPERATURE, NOON, 2, Step.CLEARED, Stage.EARLY, Priority.MEDIUM));

        await().untilAsserted(() -> assertThat(alert(first.id()).state()).isEqualTo(AlertState.LATCHED_UNACKNOWLEDGED));
    }

    /** Both ways at once: what is not counted any more, and what counts again. */
    @Test
    void life_suppressionAdded_isLookedAtAgainAtOnceAndTakenBack() {
        Finding finding = raised("ice-6", Condition.INCOMPLETE_HARVEST, NOON);
        report(EventKind.CLOSED_FROM);
        assertThat(raise(finding).state()).isEqualTo(AlertState.UNACKNOWLEDGED);
        RuleDesk.Current before = stage.rules().current(Book.LIFE);
        String own = before.text().replaceFirst("water-out-of-range]", "water-out-of-range, incomplete-harvest]");

        stage.rules().save(Book.LIFE, before.version(), own, ADA, "nobody is there");
        await().untilAsserted(() -> assertThat(alert(finding.id()).state()).isEqualTo(AlertState.SUPPRESSED_BY_DESIGN));
        assertThat(alert(finding.id()).hold().orElseThrow().why()).isEqualTo("the site is closed");

        stage.rules().rollBack(Book.LIFE, before.version() + 1, before.version(), ADA, "somebody is");
        await().untilAsserted(() -> assertThat(alert(finding.id()).state()).isEqualTo(AlertState.UNACKNOWLEDGED));
        report(EventKind.CLOSED_TO);
    }

    @Test
    void cases_ruleTakenOut_keepsTheCaseAndItsWordsAndPlacesTheNextAlertWithoutIt() {
        Finding dry = withCause(raised("ice-7", Condition.SLOW_FILL, NOON), Cause.WATER_SUPPLY_LOW);
        CaseView common = caseOf(raise(dry));
        assertThat(common.common()).contains("water-off");
        RuleDesk.Current before = stage.rules().current(Book.CASES);
        String own = before.text().substring(0, before.text().indexOf("  water-off:"));

        assertThat(stage.rules().save(Book.CASES, before.version(), own, ADA, "each on its own"))
                .isInstanceOf(Outcome.Done.class);

        CaseView after = caseOf(alert(dry.id()));
        assertThat(after.id()).isEqualTo(common.id());
        assertThat(after.title()).isEqualTo(common.title()).contains("Too little water comes to a machine");
        AlertView next = raise(withCause(raised("ice-8", Condition.SLOW_FILL, NOON), Cause.WATER_SUPPLY_LOW));
        assertThat(caseOf(next).common()).isEmpty();
        stage.rules().rollBack(Book.CASES, before.version() + 1, before.version(), ADA, "over");
    }

    @Test
    void advice_changed_isWhatTheNextLookShows() {
        AlertView before = raise(raised("ice-4", Condition.WATER_USE_HIGH, NOON));
        String headline = before.advice().headline();
        int version = stage.rules().current(Book.ADVICE).version();

        Outcome outcome = stage.rules()
                .save(
                        Book.ADVICE,
                        version,
                        Book.ADVICE.standardText().replace(headline, "Ring the water board first"),
                        ADA,
                        "works in the street");

        assertThat(outcome).isInstanceOf(Outcome.Done.class);
        assertThat(alert(before.finding().id()).advice().headline()).isEqualTo("Ring the water board first");
        assertThat(alert(before.finding().id()).advice().cautions())
                .isEqualTo(before.advice().cautions());
    }

    /** Written by another process, or by an earlier version of the product. */
    @Test
    void version_ofAnotherProcess_isTakenUpAndAnUnreadableOneIsAStateOfHealth() {
        AlertView standing = raise(raised("ice-5", Condition.REPEATED_RESTARTS, NOON));
        int version = stage.rules().current(Book.CASES).version();
        insert(version + 1, "version: old\ntold_from: 0.35\nalso_from: 0.15\nnearness: 3\ncommon: {}\n");
        await().untilAsserted(() -> assertThat(stage.health().problems())
                .hasEntrySatisfying("rules", problem -> assertThat(problem).contains("nearness", "standard")));
        assertThat(alert(standing.finding().id()).caseId()).isPresent();

        insert(version + 2, Book.CASES.standardText().replace("standard-1", "ours"));
        await().untilAsserted(() -> assertThat(stage.health().problems()).doesNotContainKey("rules"));
        assertThat(stage.rules().current(Book.CASES).isStandard()).isFalse();
    }

    private CaseView caseOf(AlertView alert) {
        return stage.views().caseOf(alert.caseId().orElseThrow()).orElseThrow();
    }

    private void report(EventKind kind) {
        stage.siteEvents().report(new Happened(now, Optional.empty(), kind, "season", "desk", ""), "site-a");
    }

    private void insert(int version, String text) {
        engines.jdbi()
                .useHandle(handle -> handle.createUpdate("insert into rule_version (book, version, text, at, who, why)"
                                + " values ('cases', :version, :text, :at, 'kim', 'from elsewhere')")
                        .bind("version", version)
                        .bind("text", text)
                        .bind("at", Instant.EPOCH)
                        .execute());
    }

    private AlertView raise(Finding finding) {
        engines.send(finding);
        await().until(() -> stage.views()
                .alert(finding.id())
                .filter(alert -> alert.finding().revision() >= finding.revision())
                .isPresent());
        return alert(finding.id());
    }

    private AlertView alert(UUID id) {
        List<AlertView> found = stage.views().alert(id).stream().toList();
        assertThat(found).hasSize(1);
        return found.get(0);
    }
}
