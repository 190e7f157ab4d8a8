package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.Action;
import dev.rimecast.alerts.view.Actions.CaseOutcome;
import dev.rimecast.alerts.view.Actions.Outcome;
import dev.rimecast.alerts.view.AlertView;
import dev.rimecast.alerts.view.CaseView;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.ProbableCause;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.finding.Stage;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord.Happened;
import dev.rimecast.telemetry.log.Topics;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Register;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Cases on a real database. */
class CasesIT extends StageBench {
    private static final Person ADA = new Person("ada");

    @BeforeAll
    void start() {
        List<Machine> machines = new ArrayList<>();
        for (String site : List.of("dry", "mild", "told", "calls", "random", "joined")) {
            IntStream.range(0, 4).forEach(i -> machines.add(Machine.basic(site + "-" + i, site, "gw-" + site)));
        }
        know(new Register(machines, List.of()));
    }

    @Test
    void waterShut_fourMachines_isOneCaseThatIsToldOnceAndEndsWithItsAlerts() throws Exception {
        List<Finding> raised = IntStream.range(0, 4)
                .mapToObj(i -> raised("dry", "dry-" + i, NOON.plusSeconds(60L * i), Cause.WATER_SUPPLY_LOW, 0.7))
                .toList();
        raised.forEach(engines::send);
        takenIn();

        CaseView only = ofSite("dry").get(0);
        assertThat(ofSite("dry")).hasSize(1);
        assertThat(only.title()).contains("Too little water comes to several machines");
        assertThat(only.alerts()).hasSize(4);
        assertThat(told(only.id())).containsExactly("case.opened");

        raised.forEach(finding -> engines.send(next(finding, Step.CLEARED, Cause.WATER_SUPPLY_LOW, 0.7)));
        takenIn();
        assertThat(ofSite("dry")).as("nobody has seen them yet").hasSize(1);
        acknowledgeAll(only.id());
        CaseView over = stage.views().caseOf(only.id()).orElseThrow();
        assertThat(over.closedAt()).isPresent();
        assertThat(told(only.id())).containsExactly("case.opened", "case.closed");
    }

    @Test
    void sameCauseOnTwoMachines_areTwoCasesWithOneNotice() throws Exception {
        engines.send(raised("told", "told-0", NOON, Cause.SCALE, 0.7));
        engines.send(raised("told", "told-1", NOON.plusSeconds(5), Cause.SCALE, 0.7));
        engines.send(raised("told", "told-2", NOON.plusSeconds(9), Cause.DRAIN_BLOCKED, 0.7));
        takenIn();

        List<CaseView> cases = ofSite("told");
        assertThat(cases).hasSize(3);
        CaseView first = caseOf(cases, "told-0");
        assertThat(told(first.id())).containsExactly("case.opened");
        assertThat(told(caseOf(cases, "told-1").id())).isEmpty();
        assertThat(caseOf(cases, "told-1").spokenForBy()).contains(first.id());
        assertThat(told(caseOf(cases, "told-2").id())).containsExactly("case.opened");
    }

    @Test
    void causeTurnsOutToBeTheSites_caseMergesAndIsNotToldAgain() throws Exception {
        Finding unsure = raised("mild", "mild-0", NOON, Cause.SCALE, 0.2);
        engines.send(unsure);
        takenIn();
        UUID own = ofSite("mild").get(0).id();

        engines.send(next(unsure, Step.UPDATED, Cause.WATER_SUPPLY_LOW, 0.7));
        takenIn();

        CaseView water = ofSite("mild").get(0);
        assertThat(water.id()).isNotEqualTo(own);
        assertThat(water.common()).contains("water-off");
        assertThat(stage.views().caseOf(own).orElseThrow().mergedInto()).contains(water.id());
        assertThat(told(own)).containsExactly("case.opened");
        assertThat(told(water.id())).isEmpty();
    }

    @Test
    void call_joinsOrOpensACase() throws Exception {
        call("calls-3", "no-ice");
        CaseView alone = ofSite("calls").get(0);
        assertThat(alone.calls())
                .singleElement()
                .satisfies(call -> assertThat(call.detail()).isEqualTo("no-ice"));
        engines.send(raised("calls", "calls-3", NOON.plusSeconds(90), Cause.SCALE, 0.6));
        takenIn();
        assertThat(stage.views().caseOf(alone.id()).orElseThrow().alerts())
                .as("the alert joins the call's case")
                .hasSize(1);
        assertThat(stage.actions().closeCase(alone.id(), ADA, "mended")).isInstanceOf(CaseOutcome.NotAllowed.class);

        call("calls-1", "noise");
        CaseView noise = ofSite("calls").stream()
                .filter(c -> c.subject().equals(Optional.of("calls-1")))
                .findFirst()
                .orElseThrow();
        assertThat(stage.actions().closeCase(noise.id(), ADA, "a loose panel")).isInstanceOf(CaseOutcome.Done.class);
        assertThat(stage.actions().closeCase(noise.id(), ADA, "again")).isInstanceOf(CaseOutcome.NotAllowed.class);
        assertThat(stage.actions().closeCase(UUID.randomUUID(), ADA, "?")).isEqualTo(new CaseOutcome.NotFound());
    }

    @Test
    void alertThatAPersonJoined_staysThroughRegroupingAndAnHeir_untilItIsTakenOut() throws Exception {
        Finding own = raised("joined", "joined-0", NOON, Cause.SCALE, 0.7);
        Finding other = raised("joined", "joined-1", NOON.plusSeconds(5), Cause.DRAIN_BLOCKED, 0.7);
        engines.send(own);
        engines.send(other);
        takenIn();
        UUID first = caseOf(ofSite("joined"), "joined-0").id();
        UUID left = caseOf(ofSite("joined"), "joined-1").id();

        assertThat(act(other, new Action.Join(first, "one water main"))).isInstanceOf(Outcome.Done.class);
        assertThat(stage.views().caseOf(first).orElseThrow().alerts()).hasSize(2);
        assertThat(stage.views().caseOf(left).orElseThrow().mergedInto()).contains(first);
        assertThat(told(left)).as("told when it was opened, and not again").containsExactly("case.opened");
        assertThat(told(first)).containsExactly("case.opened");

        // By the rules this cause is a case of the site, and a case of a place draws its alerts.
        Finding asOfSite = next(other, Step.UPDATED, Cause.WATER_SUPPLY_LOW, 0.8);
        engines.send(asOfSite);
        takenIn();
        assertThat(caseIdOf(other)).isEqualTo(first);

        Finding heir = raised("joined", "joined-1", NOON.plusSeconds(900), Cause.WATER_SUPPLY_LOW, 0.8);
        engines.send(heir);
        takenIn();
        assertThat(caseIdOf(heir)).as("raised anew while it was open").isEqualTo(first);

        assertThat(act(heir, new Action.Part("its own drain"))).isInstanceOf(Outcome.Done.class);
        UUID apart = caseIdOf(heir);
        assertThat(apart).isNotEqualTo(first);
        engines.send(next(heir, Step.UPDATED, Cause.WATER_SUPPLY_LOW, 0.9));
        takenIn();
        assertThat(caseIdOf(heir)).isEqualTo(apart);
        assertThat(told(apart)).as("people know of it by the first case").isEmpty();
        assertThat(lines(stage.views().caseOf(first).orElseThrow()))
                .contains("ada alert joined", "ada alert taken out");
        assertThat(stage.views().alert(heir.id()).orElseThrow().audit())
                .last()
                .satisfies(line -> assertThat(line.who() + ' ' + line.why()).isEqualTo("ada its own drain"));
    }

    @Test
    void join_whatMakesNoSense_isRefusedWithItsReason() throws Exception {
        Finding one = raised("joined", "joined-2", NOON, Cause.SCALE, 0.7);
        Finding elsewhere = raised("dry", "dry-3", NOON.minusSeconds(90_000), Cause.SCALE, 0.7);
        engines.send(one);
        engines.send(elsewhere);
        takenIn();

        assertThat(reason(act(one, new Action.Join(caseIdOf(one), "?")))).isEqualTo("it is in that case already");
        assertThat(reason(act(one, new Action.Join(caseIdOf(elsewhere), "?"))))
                .isEqualTo("no such case is open on its site");
        assertThat(reason(act(one, new Action.Join(UUID.randomUUID(), "?"))))
                .isEqualTo("no such case is open on its site");
        assertThat(reason(act(one, new Action.Part("?")))).isEqualTo("it is the only alert of its case");
        AlertView seen = stage.views().alert(one.id()).orElseThrow();
        assertThat(stage.actions().act(one.id(), seen.version() + 1, ADA, new Action.Part("?")))
                .isInstanceOf(Outcome.Changed.class);
    }

    private Outcome act(Finding finding, Action action) {
        AlertView seen = stage.views().alert(finding.id()).orElseThrow();
        return stage.actions().act(finding.id(), seen.version(), ADA, action);
    }

    private static String reason(Outcome outcome) {
        assertThat(outcome).isInstanceOf(Outcome.NotAllowed.class);
        return ((Outcome.NotAllowed) outcome).reason();
    }

    private UUID caseIdOf(Finding finding) {
        return stage.views().alert(finding.id()).orElseThrow().caseId().orElseThrow();
    }

    private static List<String> lines(CaseView view) {
        return view.audit().stream().map(line -> line.who() + ' ' + line.what()).toList();
    }

    /** Random findings on one site: no alert without its case, no case without its reason, one notice per cause. */
    @Test
    void random_anyOrder_losesNoCase() throws Exception {
        long seed = 20261127;
        Random random = new Random(seed);
        List<Finding> told = new ArrayList<>();
        Cause[] causes = {Cause.WATER_SUPPLY_LOW, Cause.SCALE, Cause.POWER_OFF, Cause.DRAIN_BLOCKED};
        for (int step = 0; step < 400; step++) {
            Cause cause = causes[random.nextInt(causes.length)];
            double probability = random.nextBoolean() ? 0.7 : 0.2;
            Finding finding;
            if (told.isEmpty() || random.nextInt(3) == 0) {
                finding = finding(
                        "random",
                        "random-" + random.nextInt(4),
                        Condition.values()[random.nextInt(8)],
                        NOON.plusSeconds(step),
                        1,
                        Step.RAISED,
                        cause,
                        probability);
                told.add(finding);
            } else {
                int index = random.nextInt(told.size());
                finding =
                        next(told.get(index), random.nextInt(3) == 0 ? Step.CLEARED : Step.UPDATED, cause, probability);
                told.set(index, finding);
            }
            engines.send(finding);
        }
        takenIn();

        assertThat(count("select count(*) from alert where state <> 'normal' and case_id is null and condition"
                        + " not in ('cleaning-due', 'lamp-due')"))
                .as("open alerts without a case")
                .isZero();
        assertThat(count("select count(*) from alert a join alert_case c on c.id = a.case_id"
                        + " where a.state <> 'normal' and c.closed_at is not null"))
                .as("open alerts in closed cases")
                .isZero();
        assertThat(count("select count(*) from alert_case c where closed_at is null and not exists"
                        + " (select 1 from alert a where a.case_id = c.id and a.state <> 'normal')"
                        + " and not exists (select 1 from site_event e where e.case_id = c.id)"))
                .as("open cases without an open alert or a call")
                .isZero();
        assertThat(count("select count(*) from (select 1 from alert_event where case_id is not null and alert is null"
                        + " and announced and kind <> 'case.closed' group by case_id having count(*) > 1) twice"))
                .as("cases that are told twice")
                .isZero();
        assertThat(count("select count(*) from alert_event where kind = 'case.closed' and announced and not exists"
                        + " (select 1 from alert_event e where e.case_id = alert_event.case_id and e.announced"
                        + " and e.kind <> 'case.closed' and e.sequence < alert_event.sequence)"
                        + " and not exists (select 1 from alert_case m where m.merged_into = alert_event.case_id)"))
                .as("ends that are told though the beginning was not")
                .isZero();
        assertThatThrownBy(() -> engines.jdbi().useHandle(h -> h.execute("update case_audit set who = 'mallory'")))
                .hasMessageContaining("append-only");
    }

    private int count(String sql) {
        return engines.jdbi()
                .withHandle(h -> h.createQuery(sql).mapTo(Integer.class).one());
    }

    private void call(String machine, String detail) {
        stage.siteEvents()
                .report(new Happened(NOON, Optional.of(machine), EventKind.CALL, detail, "kitchen", "4711"), "calls");
    }

    private void acknowledgeAll(UUID id) {
        for (AlertView alert : stage.views().caseOf(id).orElseThrow().alerts()) {
            stage.actions().acknowledge(alert.finding().id(), alert.version(), "ada", "");
        }
    }

    private List<String> told(UUID id) {
        return engines.jdbi()
                .withHandle(h -> h.createQuery("select kind from alert_event where case_id = :id and alert is null"
                                + " and announced order by sequence")
                        .bind("id", id)
                        .mapTo(String.class)
                        .list());
    }

    private List<CaseView> ofSite(String site) {
        return stage.views().cases(true, 100).stream()
                .filter(view -> view.site().equals(site))
                .toList();
    }

    private static CaseView caseOf(List<CaseView> cases, String machine) {
        return cases.stream()
                .filter(view -> view.subject().equals(Optional.of(machine)))
                .findFirst()
                .orElseThrow();
    }

    private void takenIn() throws Exception {
        engines.flush();
        await().until(() -> engines.isTakenIn(Topics.FINDINGS));
    }

    private static Finding raised(String site, String machine, Instant at, Cause cause, double probability) {
        return finding(site, machine, Condition.NOT_MAKING_ICE, at, 1, Step.RAISED, cause, probability);
    }

    private static Finding next(Finding before, Step step, Cause cause, double probability) {
        return finding(
                before.site(),
                before.machine().orElseThrow(),
                before.condition(),
                before.raisedAt(),
                before.revision() + 1,
                step,
                cause,
                probability);
    }

    private static Finding finding(
            String site,
            String machine,
            Condition condition,
            Instant at,
            int revision,
            Step step,
            Cause cause,
            double probability) {
        return new Finding(
                Finding.idOf(machine, condition, at),
                revision,
                step,
                site,
                Optional.of(machine),
                Optional.empty(),
                condition,
                Stage.AT_LIMIT,
                Priority.HIGH,
                at.plusSeconds(revision),
                at,
                List.of(new ProbableCause(cause, probability, List.of(), List.of())),
                Optional.empty(),
                Optional.empty(),
                "Something was seen.",
                "detector-1",
                "policy-1");
    }
}
