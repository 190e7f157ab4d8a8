package dev.rimecast.analytics.care;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.RawCycle;
import dev.rimecast.analytics.expect.SiteWeather;
import dev.rimecast.analytics.finding.FindingBook;
import dev.rimecast.analytics.finding.Subject;
import dev.rimecast.analytics.limits.RuleContext;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.analytics.policy.PolicyShelf;
import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.CareIntervals;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
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
            care.passed(START + at, context, CareSigns.NONE);
        }
    }

    private static CareSigns signs(boolean isClean, boolean isCondenserDrifting, boolean isPlateDrifting) {
        return new CareSigns() {
            @Override
            public boolean isCondenserClean() {
                return isClean;
            }

            @Override
            public boolean isCondenserDrifting() {
                return isCondenserDrifting;
            }

            @Override
            public boolean isPlateDrifting() {
                return isPlateDrifting;
            }
        };
    }

    private static RawCycle raw(long start, OptionalDouble litres) {
        OptionalDouble none = OptionalDouble.empty();
        return new RawCycle(
                start,
                start + 1_400_000,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                none,
                OptionalInt.empty(),
                none,
                none,
                litres,
                none,
                true,
                5);
    }

    /** Days on which a machine makes so many cycles of so much water. */
    private void makes(int fromDay, int toDay, int cyclesADay, double litres, CareSigns signs) {
        for (long hour = fromDay * 24L; hour < toDay * 24L; hour++) {
            long at = START + hour * HOUR;
            for (long n = hour * cyclesADay / 24; n < (hour + 1) * cyclesADay / 24; n++) {
                care.cycle(raw(at, litres > 0 ? OptionalDouble.of(litres) : OptionalDouble.empty()), context);
            }
            care.passed(at + HOUR, context, signs);
        }
    }

    /** 6,000 cycles and 1,500 cycles of the policy, at 60 a day. */
    @Test
    void cleaningAndAirFilter_ofAMachineThatNeverRests_areDueByCyclesBeforeTheirDays() {
        makes(0, 101, 60, 0, CareSigns.NONE);

        assertThat(of(Condition.AIR_FILTER_DUE).get(0).at().toEpochMilli()).isEqualTo(START + 25 * DAY);
        assertThat(of(Condition.AIR_FILTER_DUE).get(0).summary())
                .isEqualTo("The air filter is due: 1500 cycles have been made, 25 days after the last time.");
        assertThat(of(Condition.CLEANING_DUE).get(0).at().toEpochMilli()).isEqualTo(START + 100 * DAY);
    }

    @Test
    void cleaning_recorded_countsItsCyclesAnew() {
        makes(0, 90, 60, 0, CareSigns.NONE);
        care.happened(EventKind.CLEANED, "descaled", START + 90 * DAY, context);
        makes(90, 180, 60, 0, CareSigns.NONE);

        assertThat(of(Condition.CLEANING_DUE)).isEmpty();
    }

    /** 20,000 litres of the policy at 40 cycles a day of 5 litres, which a meter tells. */
    @Test
    void waterFilter_whereLitresAreCounted_isDueByThem() {
        makes(0, 99, 40, 5, CareSigns.NONE);
        assertThat(of(Condition.WATER_FILTER_DUE)).isEmpty();

        makes(99, 101, 40, 5, CareSigns.NONE);

        assertThat(of(Condition.WATER_FILTER_DUE)).hasSize(1);
        assertThat(of(Condition.WATER_FILTER_DUE).get(0).at().toEpochMilli()).isEqualTo(START + 100 * DAY);
        assertThat(of(Condition.WATER_FILTER_DUE).get(0).summary()).contains("20000 litres");
    }

    @Test
    void airFilter_whereTheCondenserDriftsForThreeDays_isDueThen() {
        makes(0, 5, 20, 0, CareSigns.NONE);
        makes(5, 7, 20, 0, signs(false, true, false));
        makes(7, 8, 20, 0, CareSigns.NONE);
        makes(8, 12, 20, 0, signs(false, true, false));

        assertThat(of(Condition.AIR_FILTER_DUE)).singleElement().satisfies(finding -> {
            assertThat(finding.at().toEpochMilli()).isEqualTo(START + 11 * DAY + HOUR);
            assertThat(finding.summary()).contains("for 3 days the condensing temperature");
            assertThat(finding.grounds()).extracting(Ground::entry).contains("care.drift_share", "care.drift_days");
        });
        assertThat(of(Condition.CLEANING_DUE)).isEmpty();
    }

    @Test
    void descaling_wherePullDownsAndHarvestsDrift_isDue() {
        makes(0, 4, 20, 0, signs(false, false, true));

        assertThat(of(Condition.CLEANING_DUE)).singleElement().satisfies(finding -> {
            assertThat(finding.summary()).startsWith("Descaling is due").contains("as scale makes them");
            assertThat(finding.priority()).isEqualTo(Priority.LOW);
        });
        assertThat(of(Condition.AIR_FILTER_DUE)).isEmpty();
    }

    /** Every three to six months [common practice]: the policy says 182 days, or 9,000 cycles. */
    @Test
    void descaling_isOverOnlyByACleaningThatDescaled() {
        days(0, 150);
        care.happened(EventKind.CLEANED, "", START + 150 * DAY, context);
        days(150, 183);
        assertThat(of(Condition.CLEANING_DUE))
                .extracting(Finding::step)
                .containsExactly(Step.RAISED, Step.CLEARED, Step.RAISED);
        assertThat(last().summary()).startsWith("Descaling is due");
        assertThat(last().at().toEpochMilli()).isEqualTo(START + 182 * DAY);

        Finding first = last();
        care.happened(EventKind.CLEANED, "", START + 183 * DAY, context);
        days(183, 184);
        assertThat(last().id()).as("another alert: the first has ended").isNotEqualTo(first.id());
        assertThat(last().step()).isEqualTo(Step.RAISED);
        assertThat(last().summary()).startsWith("Descaling is due");

        care.happened(EventKind.CLEANED, "descaled", START + 185 * DAY, context);
        assertThat(last().step()).isEqualTo(Step.CLEARED);
        makes(185, 185 + 130, 60, 0, CareSigns.NONE);
        assertThat(last().summary()).startsWith("Cleaning is due");
        care.happened(EventKind.CLEANED, "", START + (185 + 131) * DAY, context);
        makes(185 + 131, 185 + 152, 60, 0, CareSigns.NONE);
        assertThat(last().step()).isEqualTo(Step.RAISED);
        assertThat(last().summary()).startsWith("Descaling is due: 9000 cycles have been made");
    }

    /** Whoever had cleaned was taken to have descaled, and what was counted for it was the cleaning's. */
    @Test
    void descaling_ofALayoutBefore_countsFromTheLastCleaning() {
        StateWriter out = new StateWriter();
        StateVersion.MACHINE.write(out);
        out.whole(START + 100 * DAY);
        for (int i = 1; i < 4; i++) {
            out.whole(Long.MIN_VALUE);
        }
        out.time(START);
        new Idleness().save(out);
        for (int i = 0; i < 4; i++) {
            out.whole(0).real32(0).time(Long.MIN_VALUE);
        }
        out.real32(0);
        byte[] before = out.toBytes();
        before[1] = 14;
        StateReader in = new StateReader(before);
        StateVersion.MACHINE.require(in);

        care = CareWatch.restore(in, true);
        days(183, 219);

        assertThat(of(Condition.CLEANING_DUE)).isEmpty();
    }

    private Finding last() {
        List<Finding> all = of(Condition.CLEANING_DUE);
        return all.get(all.size() - 1);
    }

    /** Cycles, litres or days, whichever comes first: 9,000 cycles of the policy at 60 a day, no meter. */
    @Test
    void waterFilter_whereNoMeterCounts_isDueByCyclesBeforeItsDays() {
        makes(0, 151, 60, 0, CareSigns.NONE);

        assertThat(of(Condition.WATER_FILTER_DUE)).singleElement().satisfies(finding -> {
            assertThat(finding.at().toEpochMilli()).isEqualTo(START + 150 * DAY);
            assertThat(finding.summary()).contains("9000 cycles");
        });
    }

    @Test
    void descaling_savedAndRestored_goesOn() {
        cycles(0, 3);
        days(0, 100);
        StateWriter out = new StateWriter();
        StateVersion.MACHINE.write(out);
        care.save(out);
        byte[] now = out.toBytes();
        StateReader in = new StateReader(now);
        StateVersion.MACHINE.require(in);
        care = CareWatch.restore(in, true);
        days(100, 130);
        care.happened(EventKind.CLEANED, "", START + 131 * DAY, context);
        days(131, 183);

        assertThat(last().summary()).startsWith("Descaling is due");
        assertThat(of(Condition.WATER_FILTER_DUE)).hasSize(1);
    }

    private List<Finding> of(Condition condition) {
        return findings.stream().filter(f -> f.condition() == condition).toList();
    }

    /** Cleaning every three to six months [common practice]: the policy says 120 days. */
    @Test
    void cleaning_neverRecorded_isDueFromTheFirstReadingOnAndOverWhenRecorded() {
        days(0, 130);
        care.happened(EventKind.CLEANED, "", START + 131 * DAY, context);
        days(132, 250);

        List<Finding> cleaning = of(Condition.CLEANING_DUE).stream()
                .filter(finding -> !finding.summary().startsWith("Descaling"))
                .toList();
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
            care.passed(START + at, context, signs(true, false, false));
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
            care.cycle(raw(start, OptionalDouble.empty()), context);
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
        care.happened(EventKind.CLEANED, "", START + 9 * DAY, context);
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
        care = CareWatch.restore(new StateReader(out.toBytes()), true);
        days(100, 125);
        cycles(125, 1);

        assertThat(of(Condition.CLEANING_DUE)).hasSize(1);
        assertThat(of(Condition.RESTART_AFTER_IDLE)).hasSize(1);
        assertThat(out.size()).isLessThan(160);
    }
}
