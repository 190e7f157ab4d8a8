package dev.rimecast.analytics.monitor;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.analytics.state.StateReader;
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
            water.shiftOn(day);
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
        assertThat(water.shiftOn(FIRST + DAYS)).isCloseTo(3.2, within(0.05));
    }

    @Test
    void oneMachineAlone_saysNothingOfTheWater() {
        machines(2);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 3, 0);
        }
        assertThat(water.shiftOn(FIRST + DAYS)).isZero();
    }

    @Test
    void ofTwo_whatBothShowCounts_andNothingWhereTheyDiffer() {
        machines(2);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 2, 0, 4);
        }
        assertThat(water.shiftOn(FIRST + DAYS)).as("the lesser of 2 and 6").isCloseTo(2, within(0.05));
        for (long day = FIRST + DAYS; day < FIRST + 2 * DAYS; day++) {
            day(day, 2, -3, 3);
        }
        assertThat(water.shiftOn(FIRST + 2 * DAYS))
                .as("one says less, one more")
                .isCloseTo(2, within(0.05));
    }

    @Test
    void waterOfAWildDay_isFollowedByAFifthOfAFewKelvin() {
        machines(3);
        day(FIRST, 30, 0, 0, 0);
        day(FIRST + 1, 0, 0, 0, 0);
        assertThat(water.shiftOn(FIRST + 1)).isZero();
        assertThat(water.shiftOn(FIRST + 2)).isCloseTo(0.8, within(1e-9));
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
                shifts[day] = water.shiftOn((long) one[0]);
                machines.get((int) one[1]).see((long) one[0], one[2]);
            }
        }
        return shifts;
    }

    @Test
    void cycleOfADayThatIsPast_hasTheWaterOfThatDay() {
        machines(2);
        for (long day = FIRST; day < FIRST + 10; day++) {
            day(day, 5, 0, 0);
        }
        double yesterday = water.shiftOn(FIRST + 9);
        double today = water.shiftOn(FIRST + 10);
        assertThat(today).isGreaterThan(yesterday);
        assertThat(water.shiftOn(FIRST + 9)).isEqualTo(yesterday);
        assertThat(water.shiftOn(FIRST)).as("the oldest that is kept").isLessThan(yesterday);
        assertThat(water.shiftOn(FIRST + 10)).isEqualTo(today);
    }

    @Test
    void daysWithoutAnyCycle_keepWhatWasKnown() {
        machines(2);
        for (long day = FIRST; day < FIRST + DAYS; day++) {
            day(day, 4, 0, 0);
        }
        double before = water.shiftOn(FIRST + DAYS + 2);
        assertThat(water.shiftOn(FIRST + DAYS + 400)).isEqualTo(before);
        assertThat(water.shiftOn(FIRST + DAYS + 401)).isEqualTo(before);
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
                    assertThat(other.shiftOn(day)).isEqualTo(water.shiftOn(day));
                    machines.get(machine).see(day, kelvin);
                    others.get(machine).see(day, kelvin);
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
        assertThat(other.shiftOn(FIRST + DAYS))
                .isEqualTo(water.shiftOn(FIRST + DAYS))
                .isNotZero();
    }
}
