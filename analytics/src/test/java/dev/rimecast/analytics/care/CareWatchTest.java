package dev.rimecast.analytics.care;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateWriter;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Ground;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.machine.Machine.CareIntervals;
import dev.rimecast.telemetry.machine.Machine.Cooling;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

class CareWatchTest extends CareBench {
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

    /** Cycles, litres or days, whichever comes first: 9,000 cycles of the policy at 60 a day, no meter. */
    @Test
    void waterFilter_whereNoMeterCounts_isDueByCyclesBeforeItsDays() {
        makes(0, 151, 60, 0, CareSigns.NONE);

        assertThat(of(Condition.WATER_FILTER_DUE)).singleElement().satisfies(finding -> {
            assertThat(finding.at().toEpochMilli()).isEqualTo(START + 150 * DAY);
            assertThat(finding.summary()).contains("9000 cycles");
        });
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
