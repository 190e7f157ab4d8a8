package dev.rimecast.history.effect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import dev.rimecast.history.effect.FleetShift.Stratum;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class FleetShiftTest {
    private static final Stratum NONE = new Stratum(0, List.of());

    /** By hand: mean 1, s² 1, variance of the sum 10 (10 - 5) / 5 = 10, and Student's quantile for 4 degrees of freedom. */
    @Test
    void halfOfTheSites_sayTheSumOfAll_andHowUnsureThatIs() {
        FleetShift shift = FleetShift.of(List.of(new Stratum(10, List.of(0, 0, 1, 2, 2)), NONE))
                .orElseThrow();

        assertThat(shift.more()).isEqualTo(10);
        assertThat(shift.high() - 10).isEqualTo(2.132 * Math.sqrt(10), within(0.02));
        assertThat(10 - shift.low()).isEqualTo(shift.high() - 10, within(1e-9));
    }

    @Test
    void everySite_isExact() {
        assertThat(FleetShift.of(List.of(new Stratum(2, List.of(3, -1)), new Stratum(1, List.of(0)))))
                .contains(new FleetShift(2, 2, 2));
        assertThat(FleetShift.of(List.of(NONE, NONE))).contains(new FleetShift(0, 0, 0));
    }

    @Test
    void fewSites_orOnesThatAllStayAsTheyAre_sayNothing() {
        assertThat(FleetShift.of(List.of(new Stratum(10, List.of(0, 1, 2, 3)), NONE)))
                .isEmpty();
        assertThat(FleetShift.of(List.of(new Stratum(10, List.of(0, 0, 0, 0, 0, 0)), NONE)))
                .as("certainty from nothing")
                .isEmpty();
        assertThat(FleetShift.of(List.of(new Stratum(1, List.of(7)), new Stratum(40, List.of()))))
                .isEmpty();
        assertThatThrownBy(() -> new Stratum(1, List.of(1, 2))).isInstanceOf(IllegalArgumentException.class);
    }

    /** NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values of Student's t, 0.95. */
    @ParameterizedTest
    @CsvSource({"4, 2.132", "5, 2.015", "10, 1.812", "30, 1.697", "100, 1.660"})
    void quantileOfStudent_isThatOfTheTable(int freedom, double expected) {
        assertThat(FleetShift.quantile(freedom)).isEqualTo(expected, within(0.003));
    }

    /** Fleets of 30 sites with alerts, of which some differ by one to three, and 45 without, of which few differ by one. */
    @Test
    void interval_holdsTheTruthAboutAsOftenAsItSays() {
        long seed = 20261130;
        Random random = new Random(seed);
        int held = 0;
        int said = 0;
        for (int fleet = 0; fleet < 2_000; fleet++) {
            List<Integer> busy = new ArrayList<>();
            List<Integer> quiet = new ArrayList<>();
            for (int i = 0; i < 30; i++) {
                busy.add(random.nextInt(10) < 4 ? 1 + random.nextInt(3) : 0);
            }
            for (int i = 0; i < 45; i++) {
                quiet.add(random.nextInt(20) == 0 ? 1 : 0);
            }
            int truth = sum(busy) + sum(quiet);
            Collections.shuffle(busy, random);
            Collections.shuffle(quiet, random);
            Optional<FleetShift> shift =
                    FleetShift.of(List.of(new Stratum(30, busy.subList(0, 12)), new Stratum(45, quiet.subList(0, 6))));
            if (shift.isPresent()) {
                said++;
                held += shift.get().low() <= truth && truth <= shift.get().high() ? 1 : 0;
            }
        }
        assertThat(held / (double) said).as("seed %d", seed).isBetween(0.88, 0.97);
    }

    private static int sum(List<Integer> values) {
        return values.stream().mapToInt(Integer::intValue).sum();
    }
}
