package dev.rimecast.alerts.visits.plan;

import static dev.rimecast.alerts.visits.plan.Needs.MONDAY;
import static dev.rimecast.alerts.visits.plan.Needs.SITE;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** The number of trips against the smallest set of days, found by trying every set. */
class PlanAgainstBruteForceTest {
    private static final int DAYS = 14;
    private static final int ROUNDS = 2_000;

    @Test
    void trips_ofRandomNeedsOnDaysOfOneTeam_areTheFewestPossible() {
        for (int seed = 0; seed < ROUNDS; seed++) {
            Random random = new Random(seed);
            Set<DayOfWeek> closed = EnumSet.of(DayOfWeek.SUNDAY, DayOfWeek.of(1 + random.nextInt(7)));
            Place place = new Place(SITE, closed, 480);
            List<LocalDate> possible = possible(place);
            List<Need> needs = new ArrayList<>();
            for (int i = 0; i < 1 + random.nextInt(8); i++) {
                LocalDate earliest = MONDAY.plusDays(random.nextInt(DAYS));
                LocalDate latest = earliest.plusDays(random.nextInt(6));
                if (!latest.isBefore(MONDAY.plusDays(DAYS))
                        || possible.stream().noneMatch(day -> !day.isBefore(earliest) && !day.isAfter(latest))) {
                    continue;
                }
                needs.add(Needs.need("n" + i, SITE, earliest, Optional.of(latest), 10, Set.of()));
            }

            Plan plan = VisitPlanner.plan(
                    new VisitPlanner.Start(MONDAY, 0),
                    needs,
                    List.of(place),
                    Team.UNKNOWN,
                    List.of(),
                    PlanSettings.STANDARD);

            assertThat(plan.trips()).as("seed %s", seed).hasSize(fewest(needs, possible));
            assertThat(plan.trips())
                    .as("seed %s", seed)
                    .allSatisfy(trip -> assertThat(trip.needs()).allSatisfy(each -> {
                        assertThat(each.problem()).isEmpty();
                        assertThat(each.need().allows(trip.day())).isTrue();
                    }));
        }
    }

    private static List<LocalDate> possible(Place place) {
        Engineer only = Team.UNKNOWN.engineers().get(0);
        return MONDAY.datesUntil(MONDAY.plusDays(DAYS))
                .filter(day -> place.isOpen(day) && only.works(day))
                .toList();
    }

    private static int fewest(List<Need> needs, List<LocalDate> possible) {
        int fewest = Integer.MAX_VALUE;
        for (int set = 0; set < 1 << possible.size(); set++) {
            int size = Integer.bitCount(set);
            if (size < fewest) {
                Set<LocalDate> days = new HashSet<>();
                for (int i = 0; i < possible.size(); i++) {
                    if ((set & 1 << i) != 0) {
                        days.add(possible.get(i));
                    }
                }
                if (needs.stream().allMatch(need -> days.stream().anyMatch(need::allows))) {
                    fewest = size;
                }
            }
        }
        return fewest;
    }
}
