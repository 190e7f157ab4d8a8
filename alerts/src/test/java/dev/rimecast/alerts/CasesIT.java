package dev.rimecast.alerts;

import static dev.rimecast.alerts.life.Findings.NOON;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import dev.rimecast.alerts.view.Actions.CaseOutcome;
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
        for (String site : List.of("dry", "mild", "told", "calls", "random")) {
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
