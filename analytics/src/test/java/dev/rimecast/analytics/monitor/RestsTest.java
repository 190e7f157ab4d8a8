package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.finding.Priority;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Channel;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * Rests that are none: a bin "full" for too long or never, a machine that was switched off, a compressor that does not
 * start. A bin that is full stops the machine, and so does a sensor that says so wrongly; a machine that waits has not failed
 * [facts of the trade, common practice].
 */
class RestsTest {
    private static final double HOUR = 3600;

    /** Ten days on each of which the bin is full for eight hours at night, the plate over the ice. */
    private static PlateModel routine(boolean withPhase) {
        PlateModel plate = new PlateModel(60, 0.2, true, withPhase, false, 1);
        for (int day = 0; day < 10; day++) {
            plate.cycles(20).rest(HOUR / 2, Phase.IDLE).cycles(20).rest(8 * HOUR, Phase.IDLE);
        }
        return plate.cycles(10);
    }

    private static Scene watch(PlateModel plate) {
        return new Scene(PlateModel.MACHINE).readings(plate.readings);
    }

    private static double hours(Finding finding, long since) {
        return (finding.at().toEpochMilli() - since) / 3_600_000.0;
    }

    private static SiteRecord.Happened event(EventKind kind, String detail, long millis) {
        return new SiteRecord.Happened(
                Instant.ofEpochMilli(millis), Optional.of(PlateModel.MACHINE), kind, detail, "site", "");
    }

    @Test
    void binFull_farLongerThanEver_isRaisedOnceAndClearedByIce() {
        PlateModel plate = routine(true);
        long began = plate.now();
        Scene scene = watch(plate.rest(60 * HOUR, Phase.IDLE).cycles(3));

        assertThat(scene.findings).extracting(Finding::condition).containsOnly(Condition.BIN_FULL_IMPLAUSIBLE);
        assertThat(scene.findings).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        Finding raised = scene.findings.get(0);
        assertThat(hours(raised, began)).isBetween(12.0, 16.0);
        assertThat(raised.priority()).isEqualTo(Priority.MEDIUM);
        assertThat(raised.causes()).extracting(Finding.ProbableCause::cause).containsExactly(Cause.BIN_SENSOR_FAILED);
        assertThat(raised.causes().get(0).evidenceAgainst()).contains("It may be that nobody takes ice.");
    }

    @Test
    void binFull_whileThePlateIsAsWarmAsTheRoom_isRaisedSoonerAndSurer() {
        PlateModel plate = routine(true);
        long began = plate.now();
        plate.restingPlateCelsius = plate.ambientCelsius;
        Scene scene = watch(plate.rest(20 * HOUR, Phase.IDLE));

        assertThat(scene.findings).hasSize(1);
        assertThat(hours(scene.findings.get(0), began)).isBetween(10.5, 11.5);
        assertThat(scene.findings.get(0).priority()).isEqualTo(Priority.HIGH);
    }

    @Test
    void binFull_overLongWeekendsFromTheStart_isNoFinding() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 2);
        for (int week = 0; week < 5; week++) {
            for (int day = 0; day < 5; day++) {
                plate.cycles(30).rest(11 * HOUR, Phase.IDLE);
            }
            plate.cycles(1).rest(44 * HOUR, Phase.IDLE);
        }

        assertThat(watch(plate).findings)
                .filteredOn(finding -> !finding.condition().isCare())
                .isEmpty();
    }

    @Test
    void call_ofNoIceWhileTheBinIsSaidToBeFull_isRaisedAtOnce() {
        PlateModel plate = routine(true);
        plate.restingPlateCelsius = plate.ambientCelsius;
        Scene scene = watch(plate.rest(2 * HOUR, Phase.IDLE));

        scene.take(event(EventKind.CALL, "no-ice", plate.now()));

        assertThat(scene.findings).extracting(Finding::condition).containsExactly(Condition.BIN_FULL_IMPLAUSIBLE);
        assertThat(scene.findings.get(0).priority()).isEqualTo(Priority.HIGH);
    }

    /** Calls come late: over a cold plate there is ice by now. */
    @Test
    void call_ofNoIceWhileThePlateIsColdOverIce_isNoFinding() {
        PlateModel plate = routine(true);
        Scene scene = watch(plate.rest(2 * HOUR, Phase.IDLE));

        scene.take(event(EventKind.CALL, "no-ice", plate.now()));

        assertThat(scene.findings).isEmpty();
    }

    @Test
    void call_ofNoIceWhileTheMachineRunsOrAboutNoise_isNoFinding() {
        PlateModel plate = routine(true);
        Scene scene = watch(plate);
        scene.take(event(EventKind.CALL, "no-ice", plate.now()));
        int before = plate.readings.size();
        plate.rest(2 * HOUR, Phase.IDLE);
        scene.readings(plate.readings.subList(before, plate.readings.size()));

        scene.take(event(EventKind.CALL, "noise", plate.now()));

        assertThat(scene.findings).isEmpty();
    }

    @Test
    void off_farLongerThanEver_isRaisedWithPowerOff() {
        PlateModel plate = routine(true);
        long began = plate.now();
        Scene scene =
                watch(plate.rest(20 * HOUR, Phase.OFF).rest(300, Phase.WAIT).cycles(2));

        assertThat(scene.findings).extracting(Finding::condition).containsOnly(Condition.NOT_MAKING_ICE);
        assertThat(scene.findings).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(hours(scene.findings.get(0), began)).isBetween(8.0, 8.2);
        assertThat(scene.findings.get(0).probableCause().orElseThrow().cause()).isEqualTo(Cause.POWER_OFF);
    }

    @Test
    void off_everyNight_isNoFinding() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);
        for (int day = 0; day < 20; day++) {
            plate.cycles(35).rest(10 * HOUR, Phase.OFF).rest(300, Phase.WAIT);
        }

        assertThat(watch(plate).findings).isEmpty();
    }

    /** Twelve days: off from 22:00 to 06:00, then a call in the ninth hour before or in the third hour after it was switched off. */
    private static Scene offEveryNight(double hoursUntilOff, double hoursOff) {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);
        for (int day = 0; day < 12; day++) {
            long dayBegan = plate.now();
            while (plate.now() - dayBegan < 16 * 3_600_000L) {
                plate.cycles(1);
            }
            plate.rest(24 * HOUR - (plate.now() - dayBegan) / 1000.0, Phase.OFF);
        }
        long dayBegan = plate.now();
        while (plate.now() - dayBegan < hoursUntilOff * 3_600_000L) {
            plate.cycles(1);
        }
        Scene scene = watch(plate.rest(hoursOff * HOUR, Phase.OFF));
        assertThat(scene.findings).isEmpty();
        return scene.take(event(EventKind.CALL, "no-ice", plate.now()));
    }

    @Test
    void call_whileItIsOffAsEveryNight_isNoFinding() {
        assertThat(offEveryNight(16, 3).findings).isEmpty();
    }

    @Test
    void call_whileItIsOffAtAnotherTimeOfTheDay_isRaisedAtOnce() {
        assertThat(offEveryNight(7, 3).findings)
                .extracting(Finding::condition)
                .containsExactly(Condition.NOT_MAKING_ICE);
    }

    @Test
    void off_whileTheSiteIsClosed_isNoFinding() {
        PlateModel plate = routine(true);
        Scene scene = watch(plate);
        scene.take(event(EventKind.CLOSED_FROM, "", plate.now()));
        int before = plate.readings.size();
        plate.rest(100 * HOUR, Phase.OFF);

        scene.readings(plate.readings.subList(before, plate.readings.size()));

        assertThat(scene.findings).isEmpty();
    }

    @Test
    void rest_withoutAPhase_hasSeveralCausesThatCannotBeToldApart() {
        PlateModel plate = routine(false);
        long began = plate.now();
        Scene scene = watch(plate.rest(30 * HOUR, Phase.OFF));

        assertThat(scene.findings).extracting(Finding::condition).containsExactly(Condition.NOT_MAKING_ICE);
        Finding raised = scene.findings.get(0);
        assertThat(hours(raised, began)).isBetween(12.0, 17.0);
        assertThat(raised.causes())
                .extracting(Finding.ProbableCause::cause)
                .contains(Cause.POWER_OFF, Cause.BIN_SENSOR_FAILED, Cause.COMPRESSOR_NOT_STARTING);
        assertThat(raised.causes()).allMatch(cause -> cause.probability() < 0.5);
    }

    @Test
    void run_withoutAFullBinForFarTooManyBatches_isRaisedAndClearedWhenFull() {
        PlateModel plate = routine(true);
        Scene scene = watch(plate.cycles(220).rest(HOUR, Phase.IDLE).cycles(1));

        assertThat(scene.findings).extracting(Finding::condition).containsOnly(Condition.BIN_FULL_IMPLAUSIBLE);
        assertThat(scene.findings).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(scene.findings.get(0).summary()).contains("without its bin being full");
    }

    /** A cleaning weeks before has nothing to do with it: the bin was full again by itself, so that much ice was really taken. */
    @Test
    void run_thatEndedWithAFullBinByItself_isOfTheHabitFromThenOn() {
        PlateModel plate = routine(true);
        Scene scene = new Scene(PlateModel.MACHINE)
                .take(event(EventKind.CLEANED, "", plate.now() - (long) (9 * 24 * HOUR * 1000)));
        plate.cycles(220).rest(HOUR, Phase.IDLE);
        for (int day = 0; day < 8; day++) {
            plate.cycles(30).rest(11 * HOUR, Phase.IDLE);
        }
        scene.readings(plate.cycles(220).rest(HOUR, Phase.IDLE).cycles(1).readings);

        assertThat(scene.of(Condition.BIN_FULL_IMPLAUSIBLE))
                .extracting(Finding::step)
                .containsExactly(Step.RAISED, Step.CLEARED);
    }

    /** The condenser is still warm from the freezes before, and cools; a controller that waits for 0 °C stops after 15 minutes. */
    @Test
    void freeze_inWhichTheCondenserCools_isACompressorThatDoesNotStart_andTheReasonOfTheStop() {
        PlateModel plate = new PlateModel(30, 0.2, true, true, false, 3);
        plate.restingPlateCelsius = 12;
        Scene scene = watch(plate.cycles(40).rest(900, Phase.FREEZE).rest(1200, Phase.STOPPED));

        Finding stopped = scene.of(Condition.STOPPED_BY_PROTECTION).get(0);
        assertThat(stopped.probableCause().orElseThrow().cause()).isEqualTo(Cause.COMPRESSOR_NOT_STARTING);
    }

    /** A running compressor warms its condenser within minutes [common practice]. */
    @Test
    void freeze_withACondenserAsColdAsAtRest_isACompressorThatDoesNotStart() {
        PlateModel plate = routine(true);
        long began = plate.now();
        Scene scene = watch(plate.rest(HOUR, Phase.IDLE).rest(2400, Phase.FREEZE));

        assertThat(scene.of(Condition.NOT_MAKING_ICE)).hasSize(1);
        Finding raised = scene.of(Condition.NOT_MAKING_ICE).get(0);
        assertThat(hours(raised, began)).isBetween(1.3, 1.6);
        assertThat(raised.probableCause().orElseThrow().cause()).isEqualTo(Cause.COMPRESSOR_NOT_STARTING);
        assertThat(raised.priority()).isEqualTo(Priority.URGENT);
    }

    /** A controller that hangs says what it said last; its bin switch goes on telling that ice is wanted. */
    @Test
    void idle_forHoursThoughTheBinIsNotFull_isTheController() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);
        plate.sendsBin = true;
        for (int day = 0; day < 12; day++) {
            plate.cycles(20).rest(HOUR / 2, Phase.IDLE).cycles(20).rest(6 * HOUR, Phase.IDLE);
        }
        long began = plate.cycles(2).now();
        List<Reading> readings = plate.rest(4 * HOUR, Phase.IDLE).readings.stream()
                .map(r -> r.channel() == Channel.BIN_FULL && r.timeMillis() >= began
                        ? Reading.number(r.machine(), Channel.BIN_FULL, r.timeMillis(), 0)
                        : r)
                .toList();

        Scene scene = new Scene(PlateModel.MACHINE).readings(readings);

        assertThat(watch(plate).findings).isEmpty();
        assertThat(scene.findings).extracting(Finding::condition).containsExactly(Condition.NOT_MAKING_ICE);
        assertThat(hours(scene.findings.get(0), began)).isBetween(2.4, 2.7);
        assertThat(scene.findings.get(0).summary()).startsWith("The machine idles though its bin is not full");
        assertThat(scene.findings.get(0).probableCause().orElseThrow().cause()).isEqualTo(Cause.CONTROLLER_FAILED);
    }

    @Test
    void wait_longerThanBeforeAgainAndAgain_isAStartDelayThatWasSet() {
        PlateModel plate = routine(true);
        for (int i = 0; i < 6; i++) {
            plate.rest(HOUR, Phase.OFF)
                    .rest(i < 2 ? 300 : 0.6 * HOUR, Phase.WAIT)
                    .cycles(20);
            plate.rest(HOUR, Phase.IDLE).cycles(1);
        }
        Scene scene = watch(plate);

        assertThat(scene.findings).extracting(Finding::step).containsExactly(Step.RAISED, Step.CLEARED);
        assertThat(scene.findings.get(0).probableCause().orElseThrow().cause()).isEqualTo(Cause.START_DELAY_SET);
        assertThat(scene.findings.get(0).priority()).isEqualTo(Priority.LOW);
    }

    @Test
    void wait_longerByFar_isAStartDelayThatWasSetTheFirstTime() {
        PlateModel plate = routine(true);
        plate.rest(HOUR, Phase.OFF).rest(300, Phase.WAIT).cycles(20).rest(HOUR, Phase.IDLE);
        plate.cycles(1).rest(HOUR, Phase.OFF);
        long before = plate.now();
        plate.rest(1.5 * HOUR, Phase.WAIT).cycles(2);
        Scene scene = watch(plate);

        Finding raised = scene.of(Condition.NOT_MAKING_ICE).get(0);
        assertThat(raised.probableCause().orElseThrow().cause()).isEqualTo(Cause.START_DELAY_SET);
        assertThat(hours(raised, before)).isBetween(1.4, 1.7);
    }

    @Test
    void wait_ofAnHourEachTime_isHowTheMachineIsSet() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 4);
        for (int i = 0; i < 14; i++) {
            plate.cycles(40).rest(6 * HOUR, Phase.OFF).rest(HOUR, Phase.WAIT);
        }

        assertThat(watch(plate).findings).isEmpty();
    }

    @Test
    void rests_savedAndRestoredAfterEveryRecord_decideTheSame() {
        PlateModel plate = new PlateModel(300, 0.2, true, true, true, 5);
        for (int day = 0; day < 9; day++) {
            plate.cycles(40).rest(8 * HOUR, Phase.IDLE);
        }
        plate.rest(20 * HOUR, Phase.IDLE).cycles(5).rest(14 * HOUR, Phase.OFF).rest(HOUR, Phase.WAIT);
        plate.rest(2400, Phase.FREEZE).cycles(10);
        List<Finding> plain = watch(plate).findings;

        Scene stopping =
                new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord().readings(plate.readings);

        assertThat(plain).hasSizeGreaterThanOrEqualTo(4);
        assertThat(stopping.findings).isEqualTo(plain);
        assertThat(stopping.largestState()).isLessThanOrEqualTo(4096);
    }
}
