package dev.rimecast.analytics.otherfleet;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Signs of the faults. Source: the fault-symptom matrix that this project works from (a lumped model of its own, whose signs
 * agree with the rules of Rossi and Braun 1997), with its corrections: a sign holds for one kind of control.
 */
class FaultSignsTest {
    private static final double MILD = 0;
    private static final double SEVERE = 1;

    private static Bench.Result sound(Model model) {
        return Bench.of(model, 25, 15).run(10);
    }

    private static Bench.Result with(Model model, FaultKind kind, double severity) {
        Bench bench = Bench.of(model, 25, 15);
        kind.work(new Afflicted(bench.wear(), bench.machine()), severity, 1);
        return bench.run(10);
    }

    @ParameterizedTest
    @EnumSource(Model.class)
    void airflow_restricted_widensSplit(Model model) {
        assertThat(with(model, FaultKind.AIRFLOW, MILD).split())
                .isGreaterThan(sound(model).split() + 4);
    }

    @Test
    void airflow_restricted_lengthensFreezeAndShortensHarvest() {
        Bench.Result sound = sound(Model.ALDER);
        Bench.Result fouled = with(Model.ALDER, FaultKind.AIRFLOW, MILD);

        assertThat(fouled.freeze()).isGreaterThan(1.05 * sound.freeze());
        assertThat(fouled.harvest()).isLessThan(0.98 * sound.harvest());
        assertThat(fouled.kgPerDay()).isLessThan(sound.kgPerDay());
    }

    @ParameterizedTest
    @EnumSource(
            value = Model.class,
            names = {"ALDER", "BIRCH", "CEDAR", "ELM", "HAZEL"})
    void charge_low_slowsPullDownAndFreezeAndNarrowsSplit(Model model) {
        Bench.Result sound = sound(model);
        Bench.Result leaked = with(model, FaultKind.LOW_CHARGE, SEVERE);

        assertThat(leaked.pullDown()).isGreaterThan(1.2 * sound.pullDown());
        assertThat(leaked.freeze()).isGreaterThan(1.1 * sound.freeze());
        assertThat(leaked.harvest()).isGreaterThan(sound.harvest());
        assertThat(leaked.split()).isLessThan(sound.split());
    }

    @Test
    void compressor_weak_looksLikeLowCharge() {
        Bench.Result sound = sound(Model.ALDER);
        Bench.Result weak = with(Model.ALDER, FaultKind.COMPRESSOR_WEAK, MILD);

        assertThat(weak.pullDown()).isGreaterThan(sound.pullDown());
        assertThat(weak.freeze()).isGreaterThan(1.1 * sound.freeze());
        assertThat(weak.split()).isLessThan(sound.split() - 1);
    }

    @ParameterizedTest
    @EnumSource(
            value = Model.class,
            names = {"ALDER", "BIRCH"})
    void hotGasValve_leaking_lengthensFreezeButNotHarvest(Model model) {
        Bench.Result sound = sound(model);
        Bench.Result leaking = with(model, FaultKind.HOT_GAS_LEAK, MILD);

        assertThat(leaking.freeze()).isGreaterThan(1.2 * sound.freeze());
        assertThat(leaking.harvest()).isLessThan(1.1 * sound.harvest());
        assertThat(leaking.split()).isLessThan(sound.split());
    }

    @Test
    void hotGasValve_shut_leavesTheIce() {
        Bench.Result shut = with(Model.ALDER, FaultKind.HOT_GAS_SHUT, SEVERE);

        assertThat(shut.harvest()).isEqualTo(Settings.LONGEST_HARVEST_SECONDS);
        assertThat(shut.kgPerDay()).isZero();
    }

    @Test
    void inletValve_leaking_lengthensFreezeAndMakesLess() {
        Bench.Result sound = sound(Model.ALDER);
        Bench.Result leaking = with(Model.ALDER, FaultKind.INLET_LEAK, MILD);

        assertThat(leaking.freeze()).isGreaterThan(1.05 * sound.freeze());
        assertThat(leaking.batchKg()).isLessThan(0.95 * sound.batchKg());
        assertThat(leaking.waterPerCycleKg()).isGreaterThan(1.3 * sound.waterPerCycleKg());
    }

    @ParameterizedTest
    @EnumSource(
            value = Model.class,
            names = {"ALDER", "BIRCH"})
    void water_lost_divesTheEvaporatorAndNarrowsSplit(Model model) {
        Bench.Result sound = sound(model);
        Bench.Result losing = with(model, FaultKind.CURTAIN, MILD);

        assertThat(losing.evaporatorLowest()).isLessThan(sound.evaporatorLowest() - 5);
        assertThat(losing.split()).isLessThan(sound.split() - 2);
        assertThat(losing.harvest()).isGreaterThan(1.2 * sound.harvest());
        assertThat(losing.batchKg()).isLessThan(sound.batchKg());
    }

    @Test
    void scale_whereTemperatureEndsTheFreeze_shortensIt() {
        Bench.Result sound = sound(Model.ALDER);
        Bench.Result scaled = with(Model.ALDER, FaultKind.SCALE, SEVERE);

        assertThat(scaled.freeze()).isLessThan(0.95 * sound.freeze());
        assertThat(scaled.harvest()).isGreaterThan(1.05 * sound.harvest());
        assertThat(scaled.pullDown()).isLessThan(sound.pullDown());
    }

    @ParameterizedTest
    @EnumSource(
            value = Model.class,
            names = {"CEDAR", "ELM", "HAZEL"})
    void scale_whereWaterOrThicknessEndsTheFreeze_lengthensIt(Model model) {
        assertThat(with(model, FaultKind.SCALE, SEVERE).freeze())
                .isGreaterThan(1.02 * sound(model).freeze());
    }

    @Test
    void evaporatorProbe_loose_makesThickerIce() {
        Bench.Result sound = sound(Model.ALDER);
        Bench.Result loose = with(Model.ALDER, FaultKind.EVAPORATOR_LOOSE, MILD);

        assertThat(loose.freeze()).isGreaterThan(1.15 * sound.freeze());
        assertThat(loose.batchKg()).isGreaterThan(1.1 * sound.batchKg());
        assertThat(loose.pullDown()).isGreaterThan(sound.pullDown());
    }

    @Test
    void circulationPump_weak_crossesZeroTooEarly() {
        assertThat(with(Model.ALDER, FaultKind.PUMP_WEAK, MILD).pullDown())
                .isLessThan(0.9 * sound(Model.ALDER).pullDown());
    }

    @Test
    void air_inTheCircuit_widensSplit() {
        Bench.Result sound = sound(Model.BIRCH);

        assertThat(with(Model.BIRCH, FaultKind.AIR, SEVERE).split()).isGreaterThan(sound.split() + 2);
        assertThat(with(Model.BIRCH, FaultKind.OVERCHARGED, SEVERE).split()).isGreaterThan(sound.split() + 2);
    }

    @Test
    void fan_dead_stopsTheMachineInItsFirstFreeze() {
        assertThat(with(Model.ALDER, FaultKind.FAN_FAILED, MILD).firstStop()).isBetween(200.0, 1200.0);
    }

    @Test
    void drain_pumpFailed_stopsTheMachine() {
        assertThat(with(Model.ALDER, FaultKind.DRAIN_PUMP, MILD).firstStop()).isPositive();
    }

    @Test
    void supply_low_lengthensAFillThatEndsByLevelOnly() {
        assertThat(with(Model.HAZEL, FaultKind.WATER_LOW, MILD).fill())
                .isGreaterThan(1.4 * sound(Model.HAZEL).fill());
        assertThat(with(Model.ALDER, FaultKind.WATER_LOW, MILD).fill())
                .isEqualTo(sound(Model.ALDER).fill());
    }
}
