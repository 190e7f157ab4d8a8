package dev.rimecast.analytics.score;

import static dev.rimecast.analytics.score.Case.named;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** Worked by hand: every expected number is said beside its check. */
class ScoringTest {

    @Test
    void fault_foundInTime_givesItsLeadAsShareOfThePossible() {
        Score score = new Case()
                .fault("m1", Cause.SCALE, 20, 60)
                .alert("m1", Condition.LONG_HARVEST, 30)
                .alert("m1", Condition.SHORT_FREEZE, 50)
                .score(100);

        assertThat(score.all().found()).isEqualTo(1);
        // Found on day 30: 30 of the 40 days from 20 to 60 are left.
        assertThat(score.all().leadMedian()).isEqualTo(OptionalDouble.of(0.75));
        assertThat(score.all().threeDays()).isEqualTo(1);
    }

    @Test
    void fault_isNotFoundByAnAlertBeforeItsOnset_afterItsDeadline_orThatDoesNotFit() {
        Score score = new Case()
                .fault("m1", Cause.SCALE, 20, 60)
                .alert("m1", Condition.LONG_HARVEST, 19)
                .alert("m1", Condition.DRAIN_PUMP_OVERRUN, 30)
                .alert("m1", Condition.LONG_HARVEST, 60)
                .score(100);

        assertThat(score.all().found()).isZero();
        assertThat(score.faults().get(0).delayHours()).contains(40 * 24.0);
        assertThat(score.falseAlarms().alarms()).hasSize(1);
        assertThat(score.besideTheFault()).hasSize(1);
    }

    @Test
    void leads_ofFive_haveTheMedianAndTenthOfTypeSeven() {
        Case hand = new Case();
        for (int i = 1; i <= 5; i++) {
            hand.fault("m" + i, Cause.SCALE, 20, 30).alert("m" + i, Condition.LONG_HARVEST, 20 + i);
        }
        Score score = hand.score(100);

        // Leads 0.9, 0.8, 0.7, 0.6, 0.5. R 4: quantile(c(.5,.6,.7,.8,.9), .1) is .5 + .4 * .1.
        assertThat(score.all().leadMedian().orElseThrow()).isCloseTo(0.7, within(1e-9));
        assertThat(score.all().leadTenth().orElseThrow()).isCloseTo(0.54, within(1e-9));
        assertThat(score.all().threeDays()).isEqualTo(5);
    }

    @Test
    void threeDays_areAskedOnlyOfFaultsThatGiveThem() {
        Score score = new Case()
                .fault("m1", Cause.SCALE, 20, 30)
                .fault("m2", Cause.SCALE, 20, 22)
                .alert("m1", Condition.LONG_HARVEST, 28)
                .alert("m2", Condition.LONG_HARVEST, 21)
                .score(100);

        assertThat(score.all().developing()).isEqualTo(1);
        assertThat(score.all().threeDays()).isZero();
        assertThat(score.all().found()).isEqualTo(2);
    }

    @Test
    void step_isPrompt_afterThreeCyclesOrTwoHoursOfRunning() {
        Case hand = new Case().fault("m1", Cause.FAN_FAILED, 20, 21).fault("m2", Cause.FAN_FAILED, 20, 21);
        for (int i = 0; i < 10; i++) {
            hand.cycle("m1", 20 + 0.02 * i).cycle("m2", 20 + 0.02 * i);
        }
        // m1: cycles begun at 20.00 to 20.04 are three; m2: nine cycles of 24 minutes, 3.6 h.
        Score score = hand.alert("m1", Condition.HIGH_CONDENSING_TEMPERATURE, 20.058)
                .alert("m2", Condition.HIGH_CONDENSING_TEMPERATURE, 20.179)
                .score(100);

        assertThat(score.all().inCycles()).isEqualTo(2);
        assertThat(score.all().prompt()).isEqualTo(1);
        FaultResult.Ran slow = score.faults().get(1).ran().orElseThrow();
        assertThat(slow.cycles()).isEqualTo(9);
        assertThat(slow.hours()).isCloseTo(3.6, within(1e-9));
    }

    @Test
    void falseAlarms_areCountedOnSoundMachines_andOnFaultyOnesBeforeTheirOnset() {
        Score score = new Case()
                .sound("m1")
                .fault("m2", Cause.SCALE, 50, 90)
                .alert("m1", Condition.LONG_FREEZE, 10)
                .alert("m1", Condition.SLOW_PULL_DOWN, 20)
                .alert("m2", Condition.SLOW_PULL_DOWN, 49)
                .alert("m2", Condition.SLOW_PULL_DOWN, 51)
                .score(100);

        // 100 days of m1 and 50 of m2.
        assertThat(score.falseAlarms().machineYears()).isCloseTo(150 / 365.2425, within(1e-9));
        assertThat(score.falseAlarms().alarms()).hasSize(3);
        assertThat(score.falseAlarms().byCondition())
                .containsEntry(Condition.LONG_FREEZE, 1)
                .containsEntry(Condition.SLOW_PULL_DOWN, 2);
        // SciPy 1.17.1: chi2.ppf(0.9, 2 * (3 + 1)) / 2 is 6.680783; over 0.410686 machine-years.
        assertThat(score.falseAlarms().upperPerMachineYear()).isCloseTo(16.26737, within(1e-4));
    }

    @Test
    void careAndStatementsOfPlaceAndLink_areNoFalseAlarms() {
        Score score = new Case()
                .sound("m1")
                .alert("m1", Condition.CLEANING_DUE, 10)
                .alert("m1", Condition.AMBIENT_OUT_OF_RANGE, 11)
                .alertOfGateway("gw-1", 12)
                .alert("elsewhere", Condition.LONG_FREEZE, 13)
                .score(100);

        assertThat(score.falseAlarms().alarms()).isEmpty();
        assertThat(score.care()).isEqualTo(1);
        assertThat(score.statements())
                .containsEntry(Condition.AMBIENT_OUT_OF_RANGE, 1)
                .containsEntry(Condition.GATEWAY_SILENT, 1);
        assertThat(score.unjudged()).isEqualTo(1);
    }

    @Test
    void faultOfARoom_explainsWhatTheMachinesBesideShow() {
        Score score = new Case()
                .fault("m1", Cause.ROOM_TOO_HOT, 20, 21)
                .sound("m2")
                .alert("m2", Condition.HIGH_CONDENSING_TEMPERATURE, 20.5)
                .alert("m2", Condition.HIGH_CONDENSING_TEMPERATURE, 19)
                .score(100);

        assertThat(score.consequences()).isEqualTo(1);
        assertThat(score.falseAlarms().alarms()).hasSize(1);
    }

    @Test
    void faultOfARoom_isOneFault_foundWhereItIsFoundFirst() {
        Score score = new Case()
                .fault("m1", Cause.ROOM_TOO_HOT, 20, 22)
                .fault("m2", Cause.ROOM_TOO_HOT, 20, 22)
                .fault("m3", Cause.ROOM_TOO_HOT, 40, 42)
                .alert("m2", Condition.AMBIENT_OUT_OF_RANGE, 20.5)
                .score(100);

        // The two of day 20 are one; that of day 40 was not found.
        assertThat(score.all().faults()).isEqualTo(2);
        assertThat(score.all().found()).isEqualTo(1);
        assertThat(score.all().leadMedian()).isEqualTo(OptionalDouble.of(0.75));
    }

    @Test
    void oneMachineSilent_behindAGatewayThatIsHeard_isAFalseAlarm() {
        Score score =
                new Case().sound("m1").alert("m1", Condition.MACHINE_SILENT, 10).score(100);

        assertThat(score.falseAlarms().alarms()).hasSize(1);
    }

    @Test
    void faultOfALink_isFoundByTheAlertOfItsGateway_andNotOfAnotherWhoseNameBeginsAlike() {
        Case hand = new Case().fault("m1", Cause.GATEWAY_LINK_DOWN, 20, 21);

        assertThat(hand.alertOfGateway("gw-12", 20.1).score(100).all().found()).isZero();
        assertThat(hand.alertOfGateway("gw-1", 20.1).score(100).all().found()).isEqualTo(1);
    }

    @Test
    void cause_isJudgedAtTheLastDiagnosisBeforeTheDeadline() {
        Score score = new Case()
                .fault("m1", Cause.SCALE, 20, 60)
                .alert("m1", Condition.LONG_HARVEST, 30, named(Cause.FAN_WEAK, 0.9))
                .revision(0, 30, named(Cause.LOW_CHARGE, 0.8))
                .revision(0, 59, named(Cause.SCALE, 0.6), named(Cause.LOW_CHARGE, 0.3))
                .revision(0, 61, named(Cause.FAN_WEAK, 0.9))
                .score(100);

        assertThat(score.all().firstRight()).isEqualTo(1);
        assertThat(score.confusions()).isEmpty();
        // Stated 0.6 and right: (0.6 - 1) squared.
        assertThat(score.calibration().brier().orElseThrow()).isCloseTo(0.16, within(1e-9));
    }

    @Test
    void causesThatCannotBeToldApart_countAsOne_withTheirProbabilitiesTogether() {
        Score score = new Case()
                .fault("m1", Cause.COMPRESSOR_WEAK, 20, 60)
                .alert(
                        "m1",
                        Condition.LONG_FREEZE,
                        30,
                        named(Cause.LOW_CHARGE, 0.5),
                        named(Cause.COMPRESSOR_WEAK, 0.3),
                        named(Cause.SCALE, 0.2))
                .score(100);

        assertThat(score.all().firstRight()).isEqualTo(1);
        Calibration.Bin bin = score.calibration().bins().stream()
                .filter(b -> b.diagnoses() == 1)
                .findFirst()
                .orElseThrow();
        assertThat(bin.stated()).isCloseTo(0.8, within(1e-9));
        assertThat(bin.right()).isEqualTo(1);
    }

    @Test
    void wrongCause_isListed_andFirstThreeCountGroupsOnce() {
        Score score = new Case()
                .fault("m1", Cause.HOT_GAS_VALVE_LEAKING, 20, 60)
                .alert(
                        "m1",
                        Condition.LONG_FREEZE,
                        30,
                        named(Cause.LOW_CHARGE, 0.5),
                        named(Cause.COMPRESSOR_WEAK, 0.2),
                        named(Cause.SCALE, 0.2),
                        named(Cause.HOT_GAS_VALVE_LEAKING, 0.1))
                .score(100);

        assertThat(score.all().firstRight()).isZero();
        assertThat(score.all().firstThreeRight()).isEqualTo(1);
        assertThat(score.confusions())
                .containsExactly(new Score.Confusion(Cause.HOT_GAS_VALVE_LEAKING, Optional.of(Cause.LOW_CHARGE), 1));
    }

    @Test
    void faultWithoutDiagnosis_countsAsWrong() {
        Score score = new Case()
                .fault("m1", Cause.SCALE, 20, 60)
                .alert("m1", Condition.LONG_HARVEST, 30)
                .score(100);

        assertThat(score.all().firstRight()).isZero();
        assertThat(score.confusions()).containsExactly(new Score.Confusion(Cause.SCALE, Optional.empty(), 1));
        assertThat(score.calibration().brier()).isEmpty();
    }

    @Test
    void truthWithoutDeadline_isRefusedWithTheMachine() {
        assertThatThrownBy(() -> new Case().fault("m1", Cause.SCALE, 20, 20).score(100))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("m1")
                .hasMessageContaining("deadline");
    }

    @Test
    void page_andJson_sayTheNumbersThatTheScoreHas() {
        Score score = new Case()
                .sound("m1")
                .fault("m2", Cause.SCALE, 20, 60)
                .alert("m1", Condition.LONG_FREEZE, 10)
                .alert("m2", Condition.LONG_HARVEST, 30, named(Cause.SCALE, 0.9))
                .score(100);

        assertThat(ScoreText.of(score))
                .contains("False alarms: 1 in 0.3 machine-years")
                .contains("most probable cause right:                 100 % (1 of 1)");
        assertThat(ScoreJson.of(score)).contains("\"lead_median\":0.75").contains("\"count\":1");
        assertThat(ScoreDetails.of(score, FittingConditions.standard()))
                .contains("found    m2 scale")
                .contains("m1 long-freeze");
    }
}
