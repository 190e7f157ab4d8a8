package dev.rimecast.analytics.twelfthfleet;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.analytics.fleetfiles.Row;
import dev.rimecast.telemetry.finding.Cause;
import dev.rimecast.telemetry.machine.Channel;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** The simulator against the trade's published and tabled values; tells nothing of any detector. */
class TwelfthFleetTest {
    private static final double DAY = 86_400;

    /** What a day shows: kg, and means of pull-down, freeze and harvest in s, hottest condenser, coldest evaporator in °C. */
    private record Shown(
            double kilograms, double pullDown, double freeze, double harvest, double hottest, double coldest) {}

    private static Shown day(Design design, double ambient, double mains, Ills ills) {
        IceMachine machine = new IceMachine(design, new Random(3), ambient);
        double t = 0;
        double before = 0;
        double hottest = -99;
        double coldest = 99;
        while (t < 2 * DAY) {
            t += machine.step(t, true, ambient, ambient, mains, 1, 1, ills);
            if (t < DAY) {
                machine.told.clear();
                before = machine.iceMade;
            } else {
                hottest = Math.max(hottest, machine.condenserProbe);
                coldest = Math.min(coldest, machine.evaporatorProbe);
            }
        }
        return new Shown(
                machine.iceMade - before,
                mean(machine.told, Channel.PULL_DOWN_TIME),
                mean(machine.told, Channel.FREEZE_TIME),
                mean(machine.told, Channel.HARVEST_TIME),
                hottest,
                coldest);
    }

    private static double mean(List<Told> told, Channel channel) {
        return told.stream()
                .filter(x -> x.channel() == channel)
                .mapToDouble(Told::value)
                .average()
                .orElse(Double.NaN);
    }

    private static Ills with(Cause cause, double severity) {
        Ills ills = new Ills();
        new Fault(cause, 0, 0, severity, 1, 0.9, 1e12).apply(ills, 1);
        return ills;
    }

    /** Lemmon et al. 2009 by the ancillary equation of the open fluid files: NBP -42.116 °C; 474.43 kPa at 0, 1534.33 at 45 °C. */
    @Test
    void saturationPressure_publishedTemperatures_withinTenthOfPercent() {
        assertThat(Propane.exactPa(-42.116)).isBetween(101_325 * 0.999, 101_325 * 1.001);
        assertThat(Propane.pressurePa(0)).isBetween(474_430 * 0.999, 474_430 * 1.001);
        assertThat(Propane.pressurePa(45)).isBetween(1_534_330 * 0.999, 1_534_330 * 1.001);
    }

    /** AHRI 810 conditions (32.2 °C, 21.1 °C): the rated mass; 15 to 25 % more at 21.1 and 10 °C (from memory of catalogues). */
    @Test
    void soundMachine_ratingConditions_makesWhatItIsRatedFor() {
        for (Design design : Design.GROUPS) {
            double rated = day(design, 32.2, 21.1, new Ills()).kilograms();
            assertThat(rated / design.ratedKgPerDay()).as(design.name()).isBetween(0.85, 1.2);
            double cool = day(design, 21.1, 10, new Ills()).kilograms();
            assertThat(cool / rated).as(design.name()).isBetween(1.12, 1.36);
        }
    }

    /** Common practice: pull-down 2 to 7 min, freeze 13 to 32 min, harvest 1 to 5 min, evaporator -12 to -25 °C, split 10 to 18 K. */
    @Test
    void soundMachine_usualRoom_staysWithinTheTradesRanges() {
        for (Design design : Design.GROUPS) {
            Shown shown = day(design, 25, 15, new Ills());
            assertThat(shown.pullDown()).as(design.name()).isBetween(120.0, 420.0);
            assertThat(shown.freeze()).as(design.name()).isBetween(780.0, 1920.0);
            assertThat(shown.harvest()).as(design.name()).isBetween(60.0, 330.0);
            assertThat(shown.coldest()).as(design.name()).isBetween(-25.0, -12.0);
            assertThat(shown.hottest() - 25).as(design.name()).isBetween(10.0, 18.0);
        }
    }

    /** The trade's symptom matrix for a freeze ended by thickness or temperature: signs of pull-down, freeze, harvest and split. */
    @Test
    void faults_besideSoundMachine_showTheSignsOfTheSymptomMatrix() {
        for (Design design : List.of(Design.GROUPS[0], Design.GROUPS[1])) {
            Shown sound = day(design, 25, 15, new Ills());
            Shown dust = day(design, 25, 15, with(Cause.AIRFLOW_RESTRICTED, 0.6));
            assertThat(dust.freeze()).isGreaterThan(1.05 * sound.freeze());
            assertThat(dust.harvest()).isLessThan(0.97 * sound.harvest());
            assertThat(dust.hottest()).isGreaterThan(sound.hottest() + 5);
            Shown leak = day(design, 25, 15, with(Cause.LOW_CHARGE, 0.4));
            assertThat(leak.pullDown()).isGreaterThan(1.2 * sound.pullDown());
            assertThat(leak.freeze()).isGreaterThan(1.15 * sound.freeze());
            assertThat(leak.harvest()).isGreaterThan(1.1 * sound.harvest());
            assertThat(leak.hottest()).isLessThan(sound.hottest() - 1.5);
            Shown gas = day(design, 25, 15, with(Cause.HOT_GAS_VALVE_LEAKING, 0.3));
            assertThat(gas.freeze()).isGreaterThan(1.1 * sound.freeze());
            assertThat(gas.harvest()).isBetween(0.9 * sound.harvest(), 1.1 * sound.harvest());
            Shown loss = day(design, 25, 15, with(Cause.DUMP_VALVE_LEAKING, 0.4));
            assertThat(loss.coldest()).isLessThan(sound.coldest() - 5);
            assertThat(loss.harvest()).isGreaterThan(1.1 * sound.harvest());
            Shown inlet = day(design, 25, 15, with(Cause.INLET_VALVE_LEAKING, 0.4));
            assertThat(inlet.freeze()).isGreaterThan(1.05 * sound.freeze());
            assertThat(inlet.kilograms()).isLessThan(0.95 * sound.kilograms());
            Shown scale = day(design, 25, 15, with(Cause.SCALE, 0.4));
            assertThat(scale.pullDown()).isLessThan(0.85 * sound.pullDown());
            assertThat(scale.kilograms()).isLessThan(sound.kilograms());
        }
    }

    @Test
    void fanFailed_airCooled_stopsByProtection() {
        Shown shown = day(Design.GROUPS[0], 25, 15, with(Cause.FAN_FAILED, 1));
        assertThat(shown.kilograms()).isZero();
    }

    @Test
    void soundFleet_twentyDays_locksOutNothing() {
        TwelfthFleet fleet = TwelfthFleetBuilder.build(5, 3, 40, 60, TwelfthFleetBuilder.Scope.FULL, 1);
        fleet.advanceTo(20 * DAY);
        assertThat(fleet.machines())
                .allSatisfy(m -> assertThat(m.machine.lockedAt).isNaN());
        assertThat(fleet.truth()).allSatisfy(t -> assertThat(t.cause()).isEmpty());
    }

    @Test
    void sameSeed_twice_sameRowsAndTruth() {
        assertThat(twoDays()).isEqualTo(twoDays());
    }

    private static List<Row> twoDays() {
        return TwelfthFleetBuilder.build(6, 2, 60, 60, TwelfthFleetBuilder.Scope.MIXED, 0.5)
                .advanceTo(2 * DAY);
    }

    @Test
    void developedFault_deadline_isWhereFourFifthsAreThere() {
        Fault even = new Fault(Cause.LOW_CHARGE, 10 * DAY, 50 * DAY, 1, 1, 0, 1e12);
        assertThat(even.deadline()).isEqualTo(50 * DAY);
        Fault stuck = new Fault(Cause.BIN_SENSOR_FAILED, 10 * DAY, 0, 1, 1, 0, 1e12);
        assertThat(stuck.deadline()).isEqualTo(13 * DAY);
    }
}
