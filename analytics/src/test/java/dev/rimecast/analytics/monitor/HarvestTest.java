package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.finding.Finding.Step;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Ice melts at 0 °C: a plate that stays below it through a harvest has had no hot gas [common practice]. */
class HarvestTest {
    private final PlateModel plate = new PlateModel(60, 0.2, true, true, false, 1).cycles(60);

    private List<Finding> findings() {
        return new Scene(PlateModel.MACHINE)
                .readings(plate.readings).findings.stream()
                        .filter(finding -> !finding.condition().isCare())
                        .toList();
    }

    private void harvest(double plateCelsius, double seconds, int cycles) {
        plate.harvestPlateCelsius = plateCelsius;
        plate.harvestSeconds = seconds;
        plate.cycles(cycles);
    }

    @Test
    void plateThatStaysFrozen_isNoHotGas_fromTheSecondHarvestOn_untilThreeAreGood() {
        harvest(-6, 600, 5);
        harvest(10, 200, 8);

        List<Finding> found = findings().stream()
                .filter(finding -> finding.condition() == Condition.INCOMPLETE_HARVEST)
                .toList();

        assertThat(found).extracting(Finding::step).containsOnlyOnce(Step.RAISED, Step.CLEARED);
        assertThat(found.get(0).causes().get(0).cause()).isEqualTo(Cause.HOT_GAS_VALVE_NOT_OPENING);
        int secondCold = 61;
        int thirdGood = 60 + 5 + 3;
        assertThat(found.get(0).at().toEpochMilli())
                .isBetween(plate.freezeStarts.get(secondCold), plate.freezeStarts.get(secondCold + 1) + 600_000);
        assertThat(found.get(found.size() - 1).at().toEpochMilli())
                .isGreaterThan(plate.freezeStarts.get(thirdGood - 1));
    }

    /** Hot gas has too little heat in a room that is far too cold [common practice]. */
    @Test
    void plateThatStaysFrozenInAColdRoom_isFirstTheRoom() {
        plate.ambientCelsius = 3;
        harvest(-6, 600, 8);

        Finding found = findings().stream()
                .filter(finding -> finding.condition() == Condition.INCOMPLETE_HARVEST)
                .reduce((first, second) -> second)
                .orElseThrow();

        assertThat(found.causes().get(0).cause()).isEqualTo(Cause.ROOM_TOO_COLD);
        assertThat(found.causes()).extracting(Finding.ProbableCause::cause).contains(Cause.HOT_GAS_VALVE_NOT_OPENING);
    }

    /** Cold starves a plate, which makes it colder: one that ends its freeze kelvins too warm has lost its probe, or its charge. */
    @Test
    void plateThatEndsTooWarmInAColdRoom_isNotTheRoom() {
        plate.ambientCelsius = 3;
        harvest(10, 200, 12);
        plate.pullDownSeconds *= 4;
        harvest(10, 200, 12);

        List<Finding> found = findings().stream()
                .filter(finding -> finding.condition() == Condition.SLOW_PULL_DOWN)
                .toList();
        assertThat(findings()).extracting(Finding::condition).contains(Condition.AMBIENT_OUT_OF_RANGE);
        assertThat(found).isNotEmpty();
        assertThat(found.get(found.size() - 1).causes())
                .extracting(Finding.ProbableCause::cause)
                .isNotEmpty()
                .doesNotContain(Cause.ROOM_TOO_COLD);
    }

    @Test
    void oneColdHarvest_isNoFinding() {
        harvest(-6, 600, 1);
        harvest(10, 200, 8);

        assertThat(findings()).isEmpty();
    }

    /** The one reading of a harvest that comes soon after its begin is cold, and says nothing of its end. */
    @Test
    void plateReadEveryFiveMinutes_saysNothingOfItsHarvest() {
        PlateModel seldom = new PlateModel(300, 0.2, true, true, false, 1);
        seldom.harvestSeconds = 390;
        seldom.cycles(60);
        seldom.harvestPlateCelsius = -6;
        seldom.cycles(8);

        assertThat(new Scene(PlateModel.MACHINE)
                        .readings(seldom.readings).findings.stream().map(Finding::summary))
                .noneMatch(text -> text.contains("no warmer than"));
    }

    @Test
    void longHarvestThatThaws_hasHadHotGas() {
        harvest(6, 600, 5);

        assertThat(findings())
                .isNotEmpty()
                .allSatisfy(finding -> assertThat(finding.causes())
                        .extracting(Finding.ProbableCause::cause)
                        .doesNotContain(Cause.HOT_GAS_VALVE_NOT_OPENING));
    }
}
