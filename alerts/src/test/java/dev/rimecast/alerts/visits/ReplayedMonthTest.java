package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.NewVisit;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The same month gives the same visits, however often planning looked at it. */
class ReplayedMonthTest {
    private static final Person ADA = new Person("Ada");
    private static final int HOURS = 30 * 24;

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void month_plannedOnceOrThreeTimesAnHour_givesTheSameVisitsToTheLastId(long seed) {
        List<VisitView> once = month(seed, 1, 1);

        assertThat(once).as("it has something in it").hasSizeGreaterThan(5);
        assertThat(lines(month(seed, 1, 3))).isEqualTo(lines(once));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void month_plannedSeldom_hasTheSameVisitsByIdDayAndContent(long seed) {
        List<String> hourly = standing(month(seed, 1, 1));

        assertThat(hourly).hasSizeGreaterThan(2);
        assertThat(standing(month(seed, 6, 1))).as("four times a day").isEqualTo(hourly);
        assertThat(standing(month(seed, 7 * 24, 1))).as("once a week").isEqualTo(hourly);
    }

    private static List<String> lines(List<VisitView> visits) {
        return visits.stream()
                .flatMap(visit -> visit.history().stream()
                        .map(line -> line.at() + " " + visit.id() + ' ' + line.what() + ": " + line.why()))
                .sorted()
                .toList();
    }

    /** What stands, or what people have decided on; without what planning proposed and took back in between. */
    private static List<String> standing(List<VisitView> visits) {
        return visits.stream()
                .filter(visit ->
                        visit.state() != State.CANCELLED || !visit.changedBy().equals(Planning.PLANNING))
                .map(visit -> String.join(
                        " ",
                        visit.id().toString(),
                        visit.site(),
                        visit.day().toString(),
                        Integer.toString(visit.fromMinute()),
                        Integer.toString(visit.minutes()),
                        visit.engineer(),
                        visit.state().code(),
                        visit.needs().toString()))
                .toList();
    }

    private static List<VisitView> month(long seed, int everyHours, int times) {
        Firm firm = new Firm(new MemoryVisitStore(), IceAhead.UNKNOWN);
        Random random = new Random(seed);
        for (int hour = 0; hour < HOURS; hour++) {
            firm.now = Firm.MONDAY.plus(Duration.ofHours(hour));
            boolean isPersonThere = happens(firm, random, hour);
            if (isPersonThere || hour % everyHours == 0) {
                for (int i = 0; i < times; i++) {
                    firm.desk.plan();
                }
            }
            if (isPersonThere && hour % 3 == 0) {
                makeByHand(firm, hour);
            } else if (isPersonThere) {
                decide(firm, random.nextBoolean(), random.nextInt(1_000));
            }
        }
        firm.desk.plan();
        Filter all = new Filter(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Set.of());
        return firm.desk.list(SiteScope.EVERY, all).stream()
                .sorted(Comparator.comparing(VisitView::id))
                .toList();
    }

    /** @return whether somebody sits down to plan */
    private static boolean happens(Firm firm, Random random, int hour) {
        LocalDate today = firm.now.atZone(Firm.ZONE).toLocalDate();
        if (random.nextInt(12) == 0) {
            firm.open(
                    "n" + hour,
                    "s" + random.nextInt(3),
                    today.plusDays(random.nextInt(4)),
                    random.nextInt(4) == 0 ? Optional.empty() : Optional.of(today.plusDays(random.nextInt(20))),
                    random.nextInt(3) == 0 ? Set.of("refrigeration") : Set.of("appliance"));
        }
        if (random.nextInt(40) == 0 && !firm.needs.isEmpty()) {
            List<String> ids = new ArrayList<>(firm.needs.keySet());
            firm.needs.remove(ids.get(random.nextInt(ids.size())));
        }
        return random.nextInt(24) == 0;
    }

    private static void makeByHand(Firm firm, int hour) {
        firm.desk.make(
                new NewVisit(
                        new UUID(1, hour),
                        "s" + hour % 2,
                        firm.now.atZone(Firm.ZONE).toLocalDate().plusDays(hour % 5),
                        600,
                        hour % 4 == 0 ? "Cem" : "Bo",
                        new VisitRequest(List.of(), "as agreed on the phone", "", 90)),
                ADA);
    }

    private static void decide(Firm firm, boolean accepts, int choice) {
        List<VisitView> open = firm.desk.list(SiteScope.EVERY, Filter.OPEN).stream()
                .filter(visit -> visit.state() == (accepts ? State.PROPOSED : State.ACCEPTED))
                .toList();
        if (open.isEmpty()) {
            return;
        }
        VisitView chosen = open.get(choice % open.size());
        UUID id = chosen.id();
        if (accepts) {
            firm.desk.accept(id, chosen.sequence(), ADA, "");
        } else {
            firm.desk.done(id, chosen.sequence(), ADA, "");
            chosen.needs().forEach(planned -> firm.needs.remove(planned.need().id()));
        }
    }
}
