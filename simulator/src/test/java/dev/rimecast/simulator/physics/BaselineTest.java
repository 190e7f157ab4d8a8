package dev.rimecast.simulator.physics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * A sound 50 kg machine. Expected values of the table and the sensitivities: an earlier lumped model of the same class
 * of machine, written apart from this one and not validated on a real machine.
 */
class BaselineTest {
    @ParameterizedTest
    @CsvSource({
        "10, 10, 1.4, 15.9, 292, 24.4, 14.4, 67.0, .111",
        "21, 15, 2.3, 19.0, 222, 35.5, 14.5, 62.2, .136",
        "25, 15, 2.5, 20.2, 208, 39.4, 14.4, 60.4, .145",
        "32.2, 21.1, 4.1, 24.0, 178, 46.5, 14.3, 54.2, .172",
        "38, 25, 5.3, 27.7, 162, 52.1, 14.1, 49.5, .196",
        "43, 30, 6.9, 32.1, 150, 56.9, 13.9, 45.0, .221"
    })
    void cycle_overTheClimates_agreesWithTheEarlierModel(
            double air,
            double mains,
            double pullDown,
            double freeze,
            double harvest,
            double condensing,
            double split,
            double kgPerDay,
            double kwhPerKg) {
        Bench.Result cycle = Bench.usual(air, mains).measure();
        assertThat(cycle.pullDownMinutes()).isCloseTo(pullDown, within(0.45));
        assertThat(cycle.freezeMinutes()).isCloseTo(freeze, within(0.04 * freeze));
        assertThat(cycle.harvestSeconds()).isCloseTo(harvest, within(0.08 * harvest));
        assertThat(cycle.condenserEnd()).isCloseTo(condensing, within(0.5));
        assertThat(cycle.split()).isCloseTo(split, within(0.5));
        assertThat(cycle.kgPerDay()).isCloseTo(kgPerDay, within(0.04 * kgPerDay));
        assertThat(cycle.kwhPerKg()).isCloseTo(kwhPerKg, within(0.08 * kwhPerKg));
    }

    @Test
    void cycle_inAWarmerRoom_movesAsTheEarlierModelSays() {
        Bench.Result before = Bench.usual(23, 15).measure();
        Bench.Result after = Bench.usual(27, 15).measure();
        // For each K of room: freeze +1.9 %, condensing +0.98 K, split -0.02 K, harvest -2.8 s, yield -0.9 %.
        assertThat(perKelvin(before.freezeMinutes(), after.freezeMinutes())).isCloseTo(1.9, within(0.6));
        assertThat((after.condenserEnd() - before.condenserEnd()) / 4).isCloseTo(0.98, within(0.05));
        assertThat((after.split() - before.split()) / 4).isCloseTo(-0.02, within(0.05));
        assertThat((after.harvestSeconds() - before.harvestSeconds()) / 4).isCloseTo(-2.8, within(2.5));
        assertThat(perKelvin(before.kgPerDay(), after.kgPerDay())).isCloseTo(-0.9, within(0.4));
    }

    @Test
    void cycle_withWarmerWater_movesAsTheEarlierModelSays() {
        Bench.Result before = Bench.usual(25, 13).measure();
        Bench.Result after = Bench.usual(25, 17).measure();
        // For each K of water: freeze +0.95 %, pull-down +7 %, condensing and split 0, yield -0.7 %.
        assertThat(perKelvin(before.freezeMinutes(), after.freezeMinutes())).isCloseTo(0.95, within(0.35));
        assertThat(perKelvin(before.pullDownMinutes(), after.pullDownMinutes())).isCloseTo(7, within(2.5));
        assertThat((after.condenserEnd() - before.condenserEnd()) / 4).isCloseTo(0, within(0.05));
        assertThat(perKelvin(before.kgPerDay(), after.kgPerDay())).isCloseTo(-0.7, within(0.3));
    }

    private static double perKelvin(double before, double after) {
        return (after - before) / 4 / ((after + before) / 2) * 100;
    }

    @ParameterizedTest
    @CsvSource({"20", "25", "50", "80", "120", "150"})
    void cycle_ofEverySize_liesInTheTradesRanges(double rated) {
        Design design = Design.ofRating(rated);
        Bench.Result cycle = new Bench(design, Control.USUAL, DrainDesign.pump(design, 0), 32.2, 21.1).measure();
        // Common practice: pull-down 2 to 7 min, freeze 13 to 32 min, harvest 1 to 5 min, split 10 to 18 K,
        // pump runs 2 to 5 s; the machine makes what it is rated for at 32.2/21.1 °C (AHRI 810, from memory).
        assertThat(cycle.pullDownMinutes()).isBetween(2.0, 7.0);
        assertThat(cycle.freezeMinutes()).isBetween(13.0, 32.0);
        assertThat(cycle.harvestSeconds()).isBetween(60.0, 300.0);
        assertThat(cycle.split()).isBetween(10.0, 18.0);
        assertThat(cycle.drainLevelSeconds()).isBetween(2.0, 5.0);
        assertThat(cycle.kgPerDay()).isBetween(rated, 1.15 * rated);
    }
}
