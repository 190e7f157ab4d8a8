package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.cycle.PlateModel;
import dev.rimecast.telemetry.finding.Condition;
import dev.rimecast.telemetry.finding.Finding;
import dev.rimecast.telemetry.machine.Phase;
import java.time.Duration;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Boxes stand before a grille for an afternoon [common practice]: once, and on every day. */
class BoxesBeforeTheGrilleTest {
    private static final int CYCLES_OF_AFTERNOON = 14;
    private static final int CYCLES_OF_NIGHT = 44 - CYCLES_OF_AFTERNOON;

    private final PlateModel plate = new PlateModel(60, 0.2, true, true, false, 7);

    private void days(int days) {
        for (int day = 0; day < days; day++) {
            plate.cycles(44).rest(7200, Phase.IDLE);
        }
    }

    private void dayWithBoxes() {
        plate.splitKelvin += 9;
        plate.cycles(CYCLES_OF_AFTERNOON);
        plate.splitKelvin -= 9;
        plate.cycles(CYCLES_OF_NIGHT).rest(7200, Phase.IDLE);
    }

    private List<Finding> found() {
        return new Scene(PlateModel.MACHINE)
                .readings(plate.readings).findings.stream()
                        .filter(finding -> finding.condition() == Condition.RISING_CONDENSING_TEMPERATURE)
                        .toList();
    }

    @Test
    void once_isOverTheSameNight() {
        days(20);
        dayWithBoxes();
        days(3);
        List<Finding> found = found();

        assertThat(found)
                .extracting(Finding::step)
                .startsWith(Finding.Step.RAISED)
                .endsWith(Finding.Step.CLEARED)
                .containsOnlyOnce(Finding.Step.RAISED, Finding.Step.CLEARED);
        Finding over = found.get(found.size() - 1);
        assertThat(Duration.between(over.raisedAt(), over.at())).isLessThan(Duration.ofHours(18));
        assertThat(over.probableCause().orElseThrow().cause())
                .isEqualTo(found.get(found.size() - 2)
                        .probableCause()
                        .orElseThrow()
                        .cause());
    }

    /** Once it has come back each alert stands for two days: not one each day. */
    @Test
    void everyDay_isNotToldEveryDay() {
        days(20);
        for (int day = 0; day < 8; day++) {
            dayWithBoxes();
        }
        assertThat(found()).filteredOn(f -> f.step() == Finding.Step.RAISED).hasSizeBetween(2, 4);
    }
}
