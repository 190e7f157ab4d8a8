package dev.rimecast.analytics.otherfleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Machine.EndsBy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/** The second simulator's machines against handbook physics. */
class PlantPhysicsTest {
    private static final double FUSION_KILOJOULE = 333.55;

    /** A plate held at a temperature, water at 0 °C, nothing lost: only Stefan's problem is left. */
    private static double millimetresAfter(double plateCelsius, double seconds) {
        Surroundings around = new Surroundings();
        Design design = Design.of(Model.ALDER, 1, Design.Tolerance.NONE);
        Plant plant = new Plant(design, new Wear(), around);
        plant.sump.waterKg = design.sumpKg();
        plant.iceKg = 1e-4;
        Actuators on = new Actuators();
        on.circulation = true;
        for (int i = 0; i < seconds; i++) {
            plant.sump.waterKg = design.sumpKg();
            plant.sump.waterCelsius = 0;
            plant.plateCelsius = plateCelsius;
            plant.step(1, on, around);
        }
        double flat = plant.iceKg / (Plant.ICE_KG_PER_CUBIC_METRE * design.iceAreaSquareMetre());
        return 1000 * flat;
    }

    // Plank's slab, one-sided (ASHRAE Refrigeration, from memory): t = rho L / dT (a/h + a^2/(2k)). The plate's contact
    // is the
    // h; the surface of this machine shrinks as cups close, so the slab's law is an upper bound that is nearly reached.
    @ParameterizedTest
    @CsvSource({"-10, 600", "-15, 1200"})
    void ice_onPlateHeldCold_growsAfterPlank(double plateCelsius, int seconds) {
        Design design = Design.of(Model.ALDER, 1, Design.Tolerance.NONE);
        double k = 2.22;
        double h = 1 / (design.contactKelvinPerWatt() * design.iceAreaSquareMetre());
        double drive = seconds * -plateCelsius / (917 * FUSION_KILOJOULE * 1000);
        double slab = 1000 * (Math.sqrt(k * k / (h * h) + 2 * k * drive) - k / h);

        assertThat(millimetresAfter(plateCelsius, seconds)).isBetween(0.85 * slab, 1.01 * slab);
    }

    @ParameterizedTest
    @EnumSource(Model.class)
    void energy_atRatingConditions_liesBetweenReversibleAndRegulation(Model model) {
        Bench.Result rated = Bench.of(model, 32.2, 21.1).run(16);

        // 0.0128 kWh/kg: reversible minimum for a sink of 32.2 °C and water of 21.1 °C, computed from T0 ln(T/T0)
        assertThat(rated.kwhPerKg()).isGreaterThan(0.0128);
        // 10 CFR 431.136, self-contained, air-cooled, batch, 50 kg/day (from memory): 9.628 kWh/100 lb = 0.2123 kWh/kg;
        // one that goes by the clock alone makes thin ice in heat, as old ones do that never met the regulation
        assertThat(rated.kwhPerKg()).isLessThan(model.freezeEndsBy() == EndsBy.TIME ? 0.30 : 0.2123);
    }

    // General handbook text: condensing 11 to 15 K above the air; small ice machines 10 to 20 K (common practice)
    @ParameterizedTest
    @EnumSource(Model.class)
    void split_inMildAndHotRooms_isThatOfSmallCondensers(Model model) {
        assertThat(Bench.of(model, 25, 15).run(12).split()).isBetween(10.0, 20.0);
        assertThat(Bench.of(model, 38, 25).run(12).split()).isBetween(10.0, 20.0);
    }

    // Ranges of the class, common practice: pull-down 1 to 7 min, freeze 13 to 42 min, harvest 1 to 7 min
    @ParameterizedTest
    @EnumSource(Model.class)
    void cycle_atRatingConditions_isThatOfItsClass(Model model) {
        Bench.Result rated = Bench.of(model, 32.2, 21.1).run(16);

        assertThat(rated.pullDown()).isBetween(60.0, 420.0);
        assertThat(rated.freeze()).isBetween(13 * 60.0, 42 * 60.0);
        assertThat(rated.harvest()).isBetween(60.0, 420.0);
        assertThat(rated.firstStop()).isNegative();
    }

    // Literature range: 15 to 25 % more ice at 21 °C / 10 °C than at 32.2 °C / 21.1 °C (from memory); one whose freeze
    // ends by
    // a timer on the probe's temperature makes thicker ice in heat instead, and is left out
    @Test
    void yield_inCoolRoomWithColdWater_isHigher() {
        double cool = Bench.of(Model.HAZEL, 21.1, 10).run(16).kgPerDay();
        double rated = Bench.of(Model.HAZEL, 32.2, 21.1).run(16).kgPerDay();

        assertThat(cool / rated).isBetween(1.12, 1.35);
    }

    // Heat budget of ice (ASHRAE Fundamentals, from memory): 4.186 kJ/kgK of water, 333.55 kJ/kg of fusion, 2.05 kJ/kgK
    // of ice.
    // Beside it the plate's own 2.3 kJ/K; the pump and a room as warm as the water add at most a fifth.
    @Test
    void heat_ofOneFreeze_isTheBudgetOfIce() {
        Surroundings around = new Surroundings();
        around.roomCelsius = 15;
        Design design = Design.of(Model.ALDER, 1, Design.Tolerance.NONE);
        Plant plant = new Plant(design, new Wear(), around);
        plant.sump.waterKg = design.sumpKg();
        Actuators on = new Actuators();
        on.compressor = true;
        on.fan = true;
        on.circulation = true;
        while (plant.iceKg < design.batchKg()) {
            plant.step(2, on, around);
        }
        double water = design.sumpKg() * 4.186 * (15 - plant.sump.waterCelsius);
        double ice = plant.iceKg * (333.55 - 0.5 * 2.05 * plant.plateCelsius);
        double plate = 2.3 * (15 - plant.plateCelsius);

        assertThat(plant.extractedJoule / 1000).isBetween(water + ice + plate, 1.2 * (water + ice + plate));
    }
}
