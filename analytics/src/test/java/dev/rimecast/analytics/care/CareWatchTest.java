package dev.rimecast.analytics.care;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.CareIntervals;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

class CareWatchTest {
    private static final long DAY = 86_400_000;
    private static final long HOUR = 3_600_000;
    /** 1 May 2026. */
    private static final long START = 1_777_593_600_000L;

    private final List<Finding> findings = new ArrayList<>();
    private RuleContext context = context(Machine.basic("ice-1", "bar", "gw"));
    private CareWatch care = new CareWatch();

    private RuleContext context(Machine machine) {
        RuleContext made = new RuleContext(
                machine,
                new PolicyShelf(Policy.standard()),
                new SiteWeather(),
                new FindingBook(Subject.machine("bar", "ice-1")));
        made.out(findings::add);
        return made;
    }

    private static Machine machine(Cooling cooling, CareIntervals intervals, Optional<LocalDate> lampInstalled) {
        Machine m = Machine.basic("ice-1", "bar", "gw");
        return new Machine(
                m.id(),
                m.site(),
                m.gateway(),
                m.room(),
                m.modelGroup(),
                m.serial(),
                m.kind(),
                cooling,
                m.ratedKgPerDay(),
                m.binKg(),
                m.refrigerant(),
                m.freezeEndsBy(),
                m.harvestEndsBy(),
                m.fillEndsBy(),
                m.evaporatorProbeAt(),
                m.limits(),
                m.drainKind(),
                m.startDelaySeconds(),
                m.place(),
                intervals,
                Optional.empty(),
                lampInstalled,
                Optional.empty(),
                m.build());
    }

    private void days(double from, double to) {
        for (long at = Math.round(from * DAY); at <= to * DAY; at += HOUR) {
            care.passed(START + at, context, () -> false);
        }
    }

    private List<Finding> of(Condition condition) {
        return findings.stream().filter(f -> f.condition() == condition).toList();
    }

    /** Cleaning every three to six months [common practice]: the policy says 120 days. */
    @Test
    void cleaning_neverRecorded_isDueFromTheFirstReadingOnAndOverWhenRecorded() {
        days(0, 130);
        care.happened(EventKind.CLEANED, START + 131 * DAY, context);
        days(132, 250);

        List<Finding> cleaning = of(Condition.CLEANING_DUE);
        assertThat(cleaning).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(cleaning.get(0).at().toEpochMilli()).isEqualTo(START + 120 * DAY);
        assertThat(cleaning.get(0).priority()).isEqualTo(Priority.LOW);
        assertThat(cleaning.get(0).causes()).isEmpty();
    }

    @Test
    void interval_ofTheRegister_goesBeforeThePolicy() {
        context = context(machine(
                Cooling.AIR,
                new CareIntervals(OptionalInt.of(30), OptionalInt.empty(), OptionalInt.empty(), OptionalInt.empty()),
                Optional.empty()));

        days(0, 31);

        assertThat(of(Condition.CLEANING_DUE).get(0).at().toEpochMilli()).isEqualTo(START + 30 * DAY);
    }

    @Test
    void airFilter_ofACondenserCooledByWater_isNever() {
        context = context(machine(Cooling.WATER, CareIntervals.OF_GROUP, Optional.empty()));

        days(0, 200);

        assertThat(of(Condition.AIR_FILTER_DUE)).isEmpty();
    }

    @Test
    void airFilter_whereTheCondenserIsSeenToBeClean_isDueLater() {
        for (long at = 0; at <= 200 * DAY; at += HOUR) {
            care.passed(START + at, context, () -> true);
        }

        // Three times the 30 days of the policy.
        assertThat(of(Condition.AIR_FILTER_DUE)).hasSize(1);
        assertThat(of(Condition.AIR_FILTER_DUE).get(0).at().toEpochMilli()).isEqualTo(START + 90 * DAY);
    }

    /** Lamps are changed every year [facts of the trade]; many machines have none. */
    @Test
    void lamp_isAskedForOnlyWhereOneIsKnown() {
        days(0, 400);
        assertThat(of(Condition.LAMP_DUE)).isEmpty();

        context = context(machine(Cooling.AIR, CareIntervals.OF_GROUP, Optional.of(LocalDate.parse("2026-08-01"))));
        care = new CareWatch();
        days(0, 500);

        assertThat(of(Condition.LAMP_DUE).get(0).at()).isEqualTo("2027-08-01T00:00:00Z");
    }

    @Test
    void overdue_whenFirstHeard_isSaidAtTheFirstReading() {
        context = context(machine(Cooling.AIR, CareIntervals.OF_GROUP, Optional.of(LocalDate.parse("2020-01-01"))));

        days(0, 1);

        assertThat(of(Condition.LAMP_DUE)).hasSize(1);
        assertThat(of(Condition.LAMP_DUE).get(0).at().toEpochMilli()).isEqualTo(START);
    }

    private void cycles(double day, int count) {
        for (int i = 0; i < count; i++) {
            long start = START + Math.round(day * DAY) + i * 1_440_000L;
            care.cycle(start, start + 1_400_000, context);
        }
    }

    private void heard(double from, double to) {
        for (long at = Math.round(from * DAY); at <= to * DAY; at += 600_000) {
            care.heard(START + at);
        }
    }

    /** Little-used outlets are flushed weekly (UK HSE, HSG274 Part 2); first batches are thrown away [common practice]. */
    @Test
    void restart_afterAWeekWithoutUse_isRaisedAndEndsWithAFullBin() {
        cycles(0, 3);
        heard(0, 8);
        cycles(8, 30);

        List<Finding> restart = of(Condition.RESTART_AFTER_IDLE);
        assertThat(restart).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(restart.get(0).summary()).contains("after 8 days");
    }

    @Test
    void restart_afterSixDays_orAfterAGapOfTheReadings_isNone() {
        cycles(0, 3);
        heard(0, 6);
        cycles(6, 3);
        heard(6.1, 7);
        heard(16, 16.5);
        cycles(16.5, 3);

        assertThat(of(Condition.RESTART_AFTER_IDLE)).isEmpty();
    }

    @Test
    void restart_ofAMachineThatWasCleanedBefore_isNone() {
        cycles(0, 3);
        heard(0, 9);
        care.happened(EventKind.CLEANED, START + 9 * DAY, context);
        cycles(9.1, 3);

        assertThat(of(Condition.RESTART_AFTER_IDLE)).isEmpty();
    }

    @Test
    void care_savedAndRestored_goesOn() {
        cycles(0, 3);
        days(0, 100);
        heard(0, 100);
        StateWriter out = new StateWriter();
        care.save(out);
        care = CareWatch.restore(new StateReader(out.toBytes()));
        days(100, 125);
        cycles(125, 1);

        assertThat(of(Condition.CLEANING_DUE)).hasSize(1);
        assertThat(of(Condition.RESTART_AFTER_IDLE)).hasSize(1);
        assertThat(out.size()).isLessThan(80);
    }
}
