package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import dev.rimecast.telemetry.machine.Phase;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;

/**
 * Ice lets go where its face melts, at 0 °C: a freeze that begins again on a plate that has not thawed begins on ice. Three in a row are taken
 * for a fault [common practice].
 */
class FailedHarvestsTest {
    private static final int BEFORE = 30;
    /** Two bytes of counts and two times. */
    private static PlateModel temperatures(int stepSeconds) {
        PlateModel plate = new PlateModel(stepSeconds, 0.2, true, false, false, 1);
        plate.hasAmbientSensor = false;
        return plate;
    }

    private static void fail(PlateModel plate, int times) {
        plate.harvestPlateCelsius = -6;
        plate.cycles(times);
    }

    private static void work(PlateModel plate, int cycles) {
        plate.harvestPlateCelsius = 10;
        plate.cycles(cycles);
    }

    private static Scene scene(PlateModel plate) {
        return new Scene(PlateModel.MACHINE).readings(plate.readings);
    }

    private static List<Finding> said(PlateModel plate) {
        return scene(plate).of(Condition.INCOMPLETE_HARVEST);
    }

    @Test
    void twoTemperatures_threeFailedHarvestsInARow_areSaidWithTheThird_untilThreeAreGood() {
        PlateModel plate = temperatures(60).cycles(BEFORE);
        fail(plate, 4);
        work(plate, 5);

        List<Finding> found = said(plate);

        assertThat(found).extracting(Finding::step).containsOnlyOnce(Step.RAISED, Step.CLEARED);
        assertThat(found.get(0).causes().get(0).cause()).isEqualTo(Cause.HOT_GAS_VALVE_NOT_OPENING);
        assertThat(found.get(0).at().toEpochMilli())
                .isBetween(plate.freezeStarts.get(BEFORE + 3), plate.freezeStarts.get(BEFORE + 3) + 600_000);
        assertThat(found.get(found.size() - 1).at().toEpochMilli())
                .isLessThan(plate.freezeStarts.get(BEFORE + 4 + 4) + 600_000);
    }

    /** A harvest that its clock ends after three minutes is too short for one cold one to say anything. */
    @Test
    void phase_threeFailedHarvestsInARow_areSaid() {
        PlateModel plate = new PlateModel(30, 0.2, true, true, false, 1).cycles(BEFORE);
        plate.harvestSeconds = 180;
        fail(plate, 4);

        assertThat(said(plate))
                .isNotEmpty()
                .first()
                .satisfies(found -> assertThat(found.at().toEpochMilli())
                        .isBetween(plate.freezeStarts.get(BEFORE + 3), plate.freezeStarts.get(BEFORE + 3) + 600_000));
    }

    @Test
    void oneOrTwoThatFail_areNoFinding() {
        PlateModel plate = temperatures(60).cycles(BEFORE);
        for (int i = 0; i < 3; i++) {
            fail(plate, 2);
            work(plate, 12);
        }

        assertThat(said(plate)).isEmpty();
    }

    /** Summer: a machine that never rests makes ice all the same. */
    @Test
    void machineThatRunsDayAndNight_isNoFinding() {
        assertThat(said(temperatures(60).cycles(200))).isEmpty();
    }

    /** A probe beside the plate shows a harvest late and too cold; so it does from its first day on. */
    @Test
    void probeThatNeverShowsAThaw_isNoFinding() {
        PlateModel plate = temperatures(60);
        plate.harvestPlateCelsius = -2.5;
        plate.cycles(100);

        assertThat(said(plate)).isEmpty();
    }

    /** A bin that is full in between: what a rest thaws was no harvest, but no freeze has begun on it either. */
    @Test
    void coldHarvestThatARestFollows_isNotCounted() {
        PlateModel plate = new PlateModel(30, 0.2, true, true, false, 1).cycles(BEFORE);
        plate.harvestSeconds = 180;
        for (int i = 0; i < 6; i++) {
            fail(plate, 1);
            plate.rest(3600, Phase.IDLE);
        }

        assertThat(said(plate)).isEmpty();
    }

    /** A harvest falls between two readings. */
    @Test
    void plateReadEveryFiveMinutes_saysNothing() {
        assertThat(said(temperatures(300).cycles(200))).isEmpty();
    }

    /** Two weeks of a bin that is full each day, then days of harvests that fail: the bin is not full since nothing falls into it. */
    @Test
    void cyclesWhoseHarvestsFail_fillNoBin_andMakeNoIce() {
        PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1);
        for (int day = 0; day < 24; day++) {
            plate.cycles(24).rest(15 * 3600, Phase.IDLE);
        }
        plate.harvestSeconds = 180;
        fail(plate, 400);

        Scene scene = scene(plate);

        assertThat(scene.of(Condition.BIN_FULL_IMPLAUSIBLE)).isEmpty();
        assertThat(scene.of(Condition.NOT_MAKING_ICE))
                .isNotEmpty()
                .allSatisfy(found -> assertThat(found.step()).isNotEqualTo(Step.CLEARED))
                .first()
                .satisfies(
                        found -> assertThat(found.causes().get(0).cause()).isEqualTo(Cause.HOT_GAS_VALVE_NOT_OPENING));
    }

    /** A state of layout 18 knows neither of its harvests nor of how far its readings are apart. */
    @Test
    void stateOfTheLayoutBefore_goesOnWithNoHarvestSeen() throws IOException {
        Scene scene = new Scene(PlateModel.MACHINE);
        scene.restart();
        byte[] now = Objects.requireNonNull(scene.states.get(PlateModel.MACHINE));
        byte[] before;
        try (InputStream in = Objects.requireNonNull(
                FailedHarvestsTest.class.getResourceAsStream("state-of-machine-layout-18.txt"))) {
            before = Base64.getDecoder().decode(new String(in.readAllBytes(), StandardCharsets.US_ASCII).strip());
        }
        assertThat(before[1]).isEqualTo((byte) 18);
        scene.states.put(PlateModel.MACHINE, before);

        Scene restored = new Scene().goesOnFrom(scene.states);
        restored.ticks(60).restart();

        assertThat(restored.states.get(PlateModel.MACHINE)).isEqualTo(now);
    }

    @Test
    void savedAndRestoredAfterEveryRecord_saysTheSame() {
        PlateModel plate = temperatures(60).cycles(BEFORE);
        fail(plate, 5);
        work(plate, 5);

        Scene stopping =
                new Scene(PlateModel.MACHINE).stoppingAfterEveryRecord().readings(plate.readings);

        assertThat(stopping.findings).isEqualTo(scene(plate).findings);
    }
}
