package dev.rimecast.simulator.physics;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.telemetry.machine.Channel;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * What each fault moves, and which way, for a freeze ended by temperature and timer and a harvest ended by temperature,
 * at 25/15 °C. Signs: the fault-symptom matrix of the trade, made with an earlier lumped model; they agree with the rules
 * of Rossi and Braun (1997) where those apply. A dot means: not judged.
 */
class FaultSignsTest {
    /** Below this share nothing is said to have moved; between it and {@link #MOVED} the matrix may say either. */
    private static final double STILL = 0.06;

    private static final double MOVED = 0.01;

    /** Columns: pull-down, freeze, harvest, split, yield. */
    private record Row(String name, Ailment ailment, double value, String signs) {}

    private static final List<Row> MATRIX = List.of(
            new Row("condenser, a fifth lost", Ailment.CONDENSER_CONDUCTANCE, 0.8, "0+-+-"),
            new Row("condenser, two fifths lost", Ailment.CONDENSER_CONDUCTANCE, 0.6, "++-+-"),
            new Row("gas that can't condense", Ailment.NON_CONDENSABLE_KELVIN, 3, "0+-+-"),
            new Row("low charge, 15 %", Ailment.CHARGE, 0.85, "+++--"),
            new Row("low charge, 30 %", Ailment.CHARGE, 0.7, "+++--"),
            new Row("compressor weak", Ailment.COMPRESSOR, 0.7, "+++--"),
            new Row("hot-gas leak, 10 %", Ailment.HOT_GAS_LEAK, 0.1, "++0--"),
            new Row("hot-gas leak, 25 %", Ailment.HOT_GAS_LEAK, 0.25, "++0--"),
            new Row("inlet leak, 0.1 kg/min", Ailment.INLET_LEAK, 0.1, "0+-0-"),
            new Row("inlet leak, 0.3 kg/min", Ailment.INLET_LEAK, 0.3, "++-.-"),
            new Row("water lost, 0.1 kg/min", Ailment.WATER_LOSS, 0.1, "+.+--"),
            new Row("water lost, 0.2 kg/min", Ailment.WATER_LOSS, 0.2, "+-+--"),
            new Row("no water", Ailment.WATER_SUPPLY, 0, "--.--"),
            new Row("circulation, 40 % lost", Ailment.CIRCULATION, 0.6, "-000."),
            new Row("scale, twice", Ailment.SCALE, 2, "--+0-"),
            new Row("scale, three times", Ailment.SCALE, 3, "--+0-"),
            new Row("probe, a tenth loose", Ailment.EVAPORATOR_CONTACT, 0.9, "+++-."),
            new Row("probe, a quarter loose", Ailment.EVAPORATOR_CONTACT, 0.75, "+++-."));

    @TestFactory
    List<DynamicTest> fault_atTheBench_movesWhatTheMatrixSays() {
        Bench.Result sound = Bench.usual(25, 15).measure();
        List<DynamicTest> tests = new ArrayList<>();
        for (Row row : MATRIX) {
            tests.add(DynamicTest.dynamicTest(row.name(), () -> check(row, sound)));
        }
        return tests;
    }

    private static void check(Row row, Bench.Result sound) {
        Bench.Result faulty = Bench.usual(25, 15)
                .with(ailments -> ailments.with(row.ailment(), row.value()))
                .measure();
        check("pull-down", row.signs().charAt(0), faulty.pullDownMinutes() / sound.pullDownMinutes() - 1);
        check("freeze", row.signs().charAt(1), faulty.freezeMinutes() / sound.freezeMinutes() - 1);
        check("harvest", row.signs().charAt(2), faulty.harvestSeconds() / sound.harvestSeconds() - 1);
        check("split", row.signs().charAt(3), faulty.split() / sound.split() - 1);
        check("yield", row.signs().charAt(4), faulty.kgPerDay() / sound.kgPerDay() - 1);
    }

    private static void check(String what, char sign, double change) {
        switch (sign) {
            case '+' -> assertThat(change).as(what).isGreaterThan(MOVED);
            case '-' -> assertThat(change).as(what).isLessThan(-MOVED);
            case '0' -> assertThat(change).as(what).isBetween(-STILL, STILL);
            default -> assertThat(sign).isEqualTo('.');
        }
    }

    @Test
    void fan_stopped_letsTheMachineStopItselfByItsCondenser() {
        Bench bench = Bench.usual(25, 15).with(a -> a.with(Ailment.CONDENSER_CONDUCTANCE, 0.15));
        bench.run(1);
        assertThat(bench.stop).contains(StopReason.CONDENSING);
    }

    @Test
    void hotGasValve_thatDoesNotOpen_leavesTheIceAndRunsHarvestsToTheirLongest() {
        Bench bench = Bench.usual(25, 15).with(a -> a.with(Ailment.HOT_GAS_OPENING, 0));
        bench.run(2);
        assertThat(bench.mean(Channel.HARVEST_TIME)).isEqualTo(HarvestEnd.LONGEST_SECONDS);
        assertThat(bench.machine.takeReleasedKg()).isZero();
        bench.run(2);
        assertThat(bench.stop).contains(StopReason.NO_HARVEST);
    }

    @Test
    void scale_underLevelControl_makesTheFreezeLonger() {
        // With level or thickness control weak heat transfer makes the freeze longer, not shorter (trade practice).
        Design design = Design.ofRating(50);
        Control byLevel = Control.USUAL.with(new FreezeEnd.Level(1), new HarvestEnd.Temperature(9));
        Bench.Result sound = new Bench(design, byLevel, DrainDesign.pump(design, 0), 25, 15).measure();
        Bench.Result scaled = new Bench(design, byLevel, DrainDesign.pump(design, 0), 25, 15)
                .with(a -> a.with(Ailment.SCALE, 2))
                .measure();
        assertThat(scaled.freezeMinutes()).isGreaterThan(1.03 * sound.freezeMinutes());
    }

    @Test
    void room_tenKelvinWarmer_liftsCondenserAndFreezeButNotTheSplit() {
        Bench.Result cool = Bench.usual(25, 15).measure();
        Bench.Result hot = Bench.usual(35, 15).measure();
        assertThat(hot.condenserEnd() - cool.condenserEnd()).isBetween(9.0, 10.5);
        assertThat(Math.abs(hot.split() - cool.split())).isLessThan(0.6);
        assertThat(hot.freezeMinutes()).isGreaterThan(cool.freezeMinutes());
        assertThat(hot.harvestSeconds()).isLessThan(cool.harvestSeconds());
    }
}
