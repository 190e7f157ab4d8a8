package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.analytics.policy.Policy;
import dev.rimecast.telemetry.cycle.Feature;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.log.EventKind;
import dev.rimecast.telemetry.log.SiteRecord;
import dev.rimecast.telemetry.machine.Machine;
import dev.rimecast.telemetry.machine.Machine.EndsBy;
import dev.rimecast.telemetry.machine.Phase;
import dev.rimecast.telemetry.reading.Reading;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * A machine that was scaled as long as it is known, and is cleaned: every feature steps the other way round than scale moves it, by the
 * second point of its lines in the matrix of symptoms; beyond that where a clock ends the freeze, since less is no finding.
 */
class CleanedOffTest {
    /** How the cleaning is known. */
    enum Told {
        WRITTEN_DOWN,
        BY_ITS_PHASE,
        NOT
    }

    private final PlateModel plate = new PlateModel(60, 0.2, true, true, false, 3);

    private static Machine machine(EndsBy freezeEndsBy) {
        Machine m = Machine.basic(PlateModel.MACHINE, Scene.SITE, Scene.GATEWAY);
        return new Machine(
                m.id(),
                m.site(),
                m.gateway(),
                m.room(),
                m.modelGroup(),
                m.serial(),
                m.kind(),
                m.condenserCooling(),
                m.ratedKgPerDay(),
                m.binKg(),
                m.refrigerant(),
                Optional.of(freezeEndsBy),
                m.harvestEndsBy(),
                m.fillEndsBy(),
                m.evaporatorProbeAt(),
                m.limits(),
                m.drainKind(),
                m.startDelaySeconds(),
                m.place(),
                m.care(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                m.build());
    }

    private void scaleIsGone(EndsBy freezeEndsBy) {
        switch (freezeEndsBy) {
            case TEMPERATURE -> step(1 / 0.67, 1 / 0.92, 1 / 1.08, 0);
            case LEVEL, THICKNESS -> step(1 / 0.7, 1 / 1.1, 1 / 1.21, 0.7);
            case TIME -> step(1 / 0.6, 1, 1, 0.67);
        }
    }

    private void step(double pullDown, double freeze, double harvest, double splitKelvin) {
        plate.pullDownSeconds *= pullDown;
        plate.freezeSeconds *= freeze;
        plate.harvestSeconds *= harvest;
        plate.splitKelvin += splitKelvin;
    }

    /** A fortnight, a cleaning or none, and a week after what changes at it. */
    private Scene watch(Scene scene, EndsBy freezeEndsBy, Told told, Runnable change) {
        scene.take(new SiteRecord.Registered(Instant.EPOCH, machine(freezeEndsBy)));
        // A clock that ends the freeze leaves the plate time to come to its end with and without scale.
        plate.freezeSeconds = freezeEndsBy == EndsBy.TIME ? 1_900 : plate.freezeSeconds;
        plate.cycles(800).rest(1_800, told == Told.BY_ITS_PHASE ? Phase.CLEAN : Phase.IDLE);
        List<Reading> before = List.copyOf(plate.readings);
        Instant cleaned = Instant.ofEpochMilli(plate.now());
        change.run();
        plate.cycles(400);
        scene.readings(before);
        if (told == Told.WRITTEN_DOWN) {
            scene.take(new SiteRecord.Happened(
                    cleaned, Optional.of(PlateModel.MACHINE), EventKind.CLEANED, "", "site", ""));
        }
        return scene.readings(plate.readings.subList(before.size(), plate.readings.size()));
    }

    private static List<Condition> raised(Recorded scene) {
        return scene.findings.stream()
                .filter(finding -> finding.step() == Finding.Step.RAISED)
                .map(Finding::condition)
                .filter(condition -> !condition.isCare())
                .toList();
    }

    /** How much longer the pull-downs of the last day are than what is expected of them. */
    private static double pullDownBeyondExpected(Recorded scene) {
        return scene.cycles.subList(scene.cycles.size() - 50, scene.cycles.size()).stream()
                .flatMap(
                        cycle -> cycle.residuals().stream().filter(residual -> residual.feature() == Feature.PULL_DOWN))
                .mapToDouble(residual -> residual.measured() / residual.expected())
                .average()
                .orElseThrow();
    }

    @ParameterizedTest
    @EnumSource(EndsBy.class)
    void stepTheOtherWayRoundThanScale_afterACleaning_isLearnedAnew(EndsBy freezeEndsBy) {
        Scene scene = watch(new Scene(), freezeEndsBy, Told.WRITTEN_DOWN, () -> scaleIsGone(freezeEndsBy));

        assertThat(raised(scene)).isEmpty();
        assertThat(pullDownBeyondExpected(scene)).isBetween(0.9, 1.1);
    }

    @ParameterizedTest
    @EnumSource(EndsBy.class)
    void sameStep_withoutACleaning_isSaid(EndsBy freezeEndsBy) {
        assertThat(raised(watch(new Scene(), freezeEndsBy, Told.NOT, () -> scaleIsGone(freezeEndsBy))))
                .contains(Condition.SLOW_PULL_DOWN);
    }

    @ParameterizedTest
    @EnumSource(EndsBy.class)
    void phaseOfACleaning_countsLikeOneThatIsWrittenDown(EndsBy freezeEndsBy) {
        assertThat(raised(watch(new Scene(), freezeEndsBy, Told.BY_ITS_PHASE, () -> scaleIsGone(freezeEndsBy))))
                .isEmpty();
    }

    /** Water that is lost makes less ice: the medians of a fourth simulator, as in the tests of the diagnosis. */
    @ParameterizedTest
    @CsvSource({"WRITTEN_DOWN", "BY_ITS_PHASE"})
    void plugThatWasForgotten_isSaid(Told told) {
        assertThat(raised(watch(new Scene(), EndsBy.TEMPERATURE, told, () -> step(0.335, 0.516, 0.49, -0.8))))
                .contains(Condition.SHORT_FREEZE);
    }

    /** No cleaning takes away so much: a restriction that shows in the pull-down first begins with the weeks after it. */
    @Test
    void muchMoreThanBuildsUpBetweenTwoCleanings_isSaid() {
        assertThat(raised(watch(new Scene(), EndsBy.TEMPERATURE, Told.WRITTEN_DOWN, () -> step(1.8, 1.15, 1, 0))))
                .isNotEmpty();
    }

    /** What has come before the cleaning is not its work. */
    @Test
    void scaleItself_afterACleaning_isNothingThatWasTakenAway() {
        assertThat(raised(watch(new Scene(), EndsBy.TEMPERATURE, Told.WRITTEN_DOWN, () -> step(0.67, 0.80, 1.17, 0))))
                .isNotEmpty();
    }

    @Test
    void fromATape_aCleaningCountsAsItDid() {
        List<byte[]> tape = new ArrayList<>();
        TapeWriter writer = new TapeWriter(tape::add);
        Scene live = watch(
                Scene.taped(writer), EndsBy.TEMPERATURE, Told.BY_ITS_PHASE, () -> scaleIsGone(EndsBy.TEMPERATURE));
        writer.flush();

        Recorded again = new Recorded();
        TapePlayer player = new TapePlayer(Scene.SITE, Policy.standard(), again);
        tape.forEach(player::accept);

        assertThat(raised(live)).isEmpty();
        assertThat(again.findings).isEqualTo(live.findings);
    }
}
