package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.state.StateReader;
import dev.rimecast.analytics.state.StateVersion;
import dev.rimecast.analytics.state.StateWriter;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** What is held against: a water that the test knows, and the same days in another order. */
class SiteWaterTest {
    private static final long FIRST = 20_000;
    private static final int DAYS = 40;

    private final List<WaterSigns> machines = new ArrayList<>();
    private final SiteWater water = new SiteWater(() -> machines);

    private void machines(int count) {
        IntStream.range(0, count).forEach(i -> machines.add(new WaterSigns()));
    }

    /** A day on which each machine's cycles say what the water is, with so much of its own. */
    private void day(long day, double kelvin, double... own) {
        for (int i = 0; i < own.length; i++) {
            water.on(day);
            for (int cycle = 0; cycle < 5; cycle++) {
                machines.get(i).see(day, kelvin + own[i]);
            }
        }
    }

    @Test
    void whatMostMachinesShow_isTheWater_oneOfThemIsNot() {
        machines(3);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 3, 0.2, -0.2, 9);
        }
        assertThat(water.on(FIRST + DAYS).kelvin()).isCloseTo(3.2, within(0.05));
    }

    @Test
    void oneMachineAlone_saysNothingOfTheWater() {
        machines(2);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 3, 0);
        }
        assertThat(water.on(FIRST + DAYS).kelvin()).isZero();
    }

    @Test
    void ofTwo_whatBothShowCounts_andNothingWhereTheyDiffer() {
        machines(2);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 2, 0, 4);
        }
        assertThat(water.on(FIRST + DAYS).kelvin()).as("the lesser of 2 and 6").isCloseTo(2, within(0.05));
        for (long day = FIRST + DAYS; day < FIRST + 2 * DAYS; day++) {
            day(day, 2, -3, 3);
        }
        assertThat(water.on(FIRST + 2 * DAYS).kelvin())
                .as("one says less, one more")
                .isCloseTo(2, within(0.05));
    }

    @Test
    void waterOfAWildDay_isFollowedByAFifthOfAFewKelvin() {
        machines(3);
        day(FIRST, 30, 0, 0, 0);
        day(FIRST + 1, 0, 0, 0, 0);
        assertThat(water.on(FIRST + 1).kelvin()).isZero();
        assertThat(water.on(FIRST + 2).kelvin()).isCloseTo(0.8, within(1e-9));
    }

    /** A machine may be ahead of another by almost a day, and the cycles of a day come in any order. */
    @Test
    void orderOfMachinesWithinADay_changesNothing() {
        List<double[]> said = new ArrayList<>();
        Random random = new Random(5);
        for (int day = 0; day < DAYS; day++) {
            for (int machine = 0; machine < 4; machine++) {
                for (int cycle = 0; cycle < 4; cycle++) {
                    // Quarters of a kelvin, so that a sum has no rounding that goes by its order.
                    said.add(new double[] {FIRST + day, machine, Math.round(4 * random.nextGaussian()) / 4.0});
                }
            }
        }
        double[] inOrder = shifts(said, new Random(1));
        for (int seed = 2; seed < 30; seed++) {
            assertThat(shifts(said, new Random(seed))).containsExactly(inOrder);
        }
    }

    private static double[] shifts(List<double[]> said, Random random) {
        List<WaterSigns> machines = new ArrayList<>();
        IntStream.range(0, 4).forEach(i -> machines.add(new WaterSigns()));
        SiteWater water = new SiteWater(() -> machines);
        double[] shifts = new double[DAYS];
        for (int day = 0; day < DAYS; day++) {
            List<double[]> ofDay = new ArrayList<>();
            for (double[] one : said) {
                if (one[0] == FIRST + day) {
                    ofDay.add(one);
                }
            }
            Collections.shuffle(ofDay, random);
            for (double[] one : ofDay) {
                shifts[day] = water.on((long) one[0]).kelvin();
                machines.get((int) one[1]).see((long) one[0], one[2]);
            }
        }
        return shifts;
    }

    /** A day on which sensors show so much more than the season. */
    private void measured(long day, double... kelvin) {
        water.on(day);
        for (double each : kelvin) {
            for (int cycle = 0; cycle < 5; cycle++) {
                water.measured(day, each);
            }
        }
    }

    @Test
    void sensorsTellHowItGoes_fromWhereItWasBefore() {
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            measured(day, 5 + 0.25 * (day - FIRST));
        }

        assertThat(water.on(FIRST + DAYS).kelvin())
                .as("of 10 K in 40 days all but two days and the mean's two, and not the 5 K that were there before")
                .isBetween(0.25 * (DAYS - 5), 0.25 * (DAYS - 2));
        assertThat(water.on(FIRST + DAYS).isMeasured()).isTrue();
        assertThat(water.isMeasured()).isTrue();
    }

    @Test
    void whatSensorsShow_goesBeforeWhatCyclesSay() {
        machines(3);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 6, 0, 0, 0);
            measured(day, 1);
        }

        assertThat(water.on(FIRST + DAYS).kelvin())
                .as("sensors say that it has not changed")
                .isCloseTo(0, within(1e-9));
    }

    @Test
    void sensorThatIsAwayForAWeek_leavesNoStep_andSaysNothingMeanwhile() {
        for (long day = FIRST; day < FIRST + 10; day++) {
            measured(day, 1);
        }
        for (long day = FIRST + 10; day < FIRST + 17; day++) {
            water.on(day);
        }
        assertThat(water.on(FIRST + 16).isMeasured()).isFalse();
        for (long day = FIRST + 17; day < FIRST + 27; day++) {
            measured(day, 4);
        }

        assertThat(water.on(FIRST + 27).kelvin()).isCloseTo(water.on(FIRST + 24).kelvin(), within(1e-9));
        assertThat(water.on(FIRST + 27).isMeasured()).isTrue();
    }

    @Test
    void siteThatIsClosedOnSundays_goesOnWithItsSensors() {
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            if (day % 7 == 0) {
                water.on(day);
            } else {
                measured(day, 5 + 0.25 * (day - FIRST));
            }
        }

        assertThat(water.on(FIRST + DAYS).kelvin()).isBetween(0.25 * (DAYS - 6), 0.25 * (DAYS - 2));
        assertThat(water.on(FIRST + DAYS).days()).isGreaterThan(30);
    }

    @Test
    void probeThatComesOffItsPipe_andOneOfTwoThatFallsSilent_areNoMains() {
        for (long day = FIRST; day < FIRST + 20; day++) {
            measured(day, 1, 6);
        }
        double before = water.on(FIRST + 20).kelvin();
        for (long day = FIRST + 20; day < FIRST + 40; day++) {
            measured(day, 6);
        }
        assertThat(water.on(FIRST + 40).kelvin()).as("of 1 and 6 K, 6").isCloseTo(before, within(0.01));
        assertThat(water.on(FIRST + 40).isMeasured()).isTrue();

        for (long day = FIRST + 40; day < FIRST + 60; day++) {
            measured(day, 16);
        }
        assertThat(water.on(FIRST + 60).kelvin()).as("10 K in a day").isCloseTo(before, within(0.01));
    }

    @Test
    void sensorsInAnyOrder_areTheSameToTheBit() {
        double[] said = new Random(5).doubles(60, -3, 6).toArray();
        SiteWater forwards = new SiteWater(List::of);
        SiteWater backwards = new SiteWater(List::of);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            forwards.on(day);
            backwards.on(day);
            for (int i = 0; i < said.length; i++) {
                forwards.measured(day, said[i] + 0.1 * (day - FIRST));
                backwards.measured(day, said[said.length - 1 - i] + 0.1 * (day - FIRST));
            }
        }

        assertThat(forwards.on(FIRST + DAYS)).isEqualTo(backwards.on(FIRST + DAYS));
        assertThat(forwards.on(FIRST + DAYS).kelvin()).isGreaterThan(3);
    }

    @Test
    void stateOfTheLayoutBefore_isRead_andKnowsOfNoSensor() {
        StateWriter out = new StateWriter();
        out.u8('S').u8(6).time(FIRST);
        for (int i = 0; i < 4; i++) {
            out.real(1.5);
        }
        out.u8(77);
        StateReader in = new StateReader(out.toBytes());
        StateVersion.SITE.require(in);
        water.restore(in);

        assertThat(water.on(FIRST + 1)).isEqualTo(new SiteWater.Shift(1.5, 0));
        assertThat(in.u8()).as("what comes behind it").isEqualTo(77);
    }

    @Test
    void cycleOfADayThatIsPast_hasTheWaterOfThatDay() {
        machines(2);
        for (long day = FIRST; day < FIRST + 10; day++) {
            day(day, 5, 0, 0);
        }
        double yesterday = water.on(FIRST + 9).kelvin();
        double today = water.on(FIRST + 10).kelvin();
        assertThat(today).isGreaterThan(yesterday);
        assertThat(water.on(FIRST + 9).kelvin()).isEqualTo(yesterday);
        assertThat(water.on(FIRST).kelvin()).as("the oldest that is kept").isLessThan(yesterday);
        assertThat(water.on(FIRST + 10).kelvin()).isEqualTo(today);
    }

    @Test
    void daysWithoutAnyCycle_keepWhatWasKnown() {
        machines(2);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 4, 0, 0);
        }
        double before = water.on(FIRST + DAYS + 2).kelvin();
        assertThat(water.on(FIRST + DAYS + 400).kelvin()).isEqualTo(before);
        assertThat(water.on(FIRST + DAYS + 401).kelvin()).isEqualTo(before);
    }

    @Test
    void savedAndRestoredOnEveryDay_goesOnTheSame() {
        machines(3);
        List<WaterSigns> others = new ArrayList<>(List.of(new WaterSigns(), new WaterSigns(), new WaterSigns()));
        SiteWater other = new SiteWater(() -> others);
        Random random = new Random(8);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            for (int machine = 0; machine < 3; machine++) {
                for (int cycle = 0; cycle < 4; cycle++) {
                    double kelvin = 2 + random.nextGaussian();
                    assertThat(other.on(day)).isEqualTo(water.on(day));
                    machines.get(machine).see(day, kelvin);
                    others.get(machine).see(day, kelvin);
                    if (day > FIRST + DAYS / 2) {
                        water.measured(day, 3 + kelvin);
                        other.measured(day, 3 + kelvin);
                    }
                }
            }
            StateWriter out = new StateWriter();
            other.save(out);
            others.forEach(signs -> signs.save(out));
            StateReader in = new StateReader(out.toBytes());
            other = new SiteWater(() -> others);
            other.restore(in);
            others.replaceAll(signs -> WaterSigns.restore(in));
        }
        assertThat(other.on(FIRST + DAYS).kelvin())
                .isEqualTo(water.on(FIRST + DAYS).kelvin())
                .isNotZero();
    }
}
