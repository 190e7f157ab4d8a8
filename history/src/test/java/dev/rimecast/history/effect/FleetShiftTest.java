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

    /**
     * Fleets of sites with alerts, of which four in ten differ by one to three, and of sites without, of which few differ by one. Seen by turns,
     * two to one.
     */
    @ParameterizedTest
    @CsvSource({
        "30, 7, 45, 5, 0.05",
        "30, 12, 45, 6, 0.05",
        "30, 20, 45, 10, 0.05",
        "50, 10, 2450, 5, 0.03",
        "50, 20, 2450, 10, 0.03",
        "50, 50, 2450, 40, 0.03",
    })
    void interval_holdsTheTruthAtLeastAsOftenAsItSays(
            int busySites, int busySeen, int quietSites, int quietSeen, double share) {
        long seed = 20261130;
        Random random = new Random(seed);
        int held = 0;
        int said = 0;
        for (int fleet = 0; fleet < 2_000; fleet++) {
            List<Integer> busy = new ArrayList<>();
            List<Integer> quiet = new ArrayList<>();
            for (int i = 0; i < busySites; i++) {
                busy.add(random.nextInt(10) < 4 ? 1 + random.nextInt(3) : 0);
            }
            for (int i = 0; i < quietSites; i++) {
                quiet.add(random.nextDouble() < share ? 1 : 0);
            }
            int truth = sum(busy) + sum(quiet);
            Collections.shuffle(busy, random);
            Collections.shuffle(quiet, random);
            Optional<FleetShift> shift = FleetShift.of(List.of(
                    new Stratum(busySites, busy.subList(0, busySeen)),
                    new Stratum(quietSites, quiet.subList(0, quietSeen))));
            if (shift.isPresent()) {
                said++;
                held += shift.get().low() <= truth && truth <= shift.get().high() ? 1 : 0;
            }
        }
        assertThat(said).isGreaterThan(1_000);
        assertThat(held / (double) said).as("seed %d", seed).isGreaterThan(0.9);
    }

    /** By hand: 2 of 2 busy sites are known, 40 of 45 quiet ones not, which may be 1 - 0.05^(1/5) = 45.07 % of them, by 3 each. */
    @Test
    void stratumThatShowsNothingYet_mayHoldMore() {
        FleetShift shift = FleetShift.of(
                        List.of(new Stratum(2, List.of(3, -1)), new Stratum(45, List.of(0, 0, 0, 0, 0))))
                .orElseThrow();

        assertThat(shift.more()).isEqualTo(2);
        assertThat(shift.high()).isEqualTo(2 + 40 * 0.4507 * 3, within(0.01));
        assertThat(shift.low()).isEqualTo(2 - 40 * 0.4507 * 3, within(0.01));
    }

    private static int sum(List<Integer> values) {
        return values.stream().mapToInt(Integer::intValue).sum();
    }
}
