package dev.rimecast.alerts.visits.plan;

import static dev.rimecast.alerts.visits.plan.Needs.MONDAY;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** What holds for every plan, over several sites, engineers with different skills, and visits that were accepted. */
class RandomPlansTest {
    private static final List<String> SKILLS = List.of("appliance", "electrical", "refrigeration");
    private static final PlanSettings SETTINGS = PlanSettings.STANDARD;

    @Test
    void plan_ofAnything_hasEachNeedOnceAndBreaksNoRule() {
        for (int seed = 0; seed < 1_500; seed++) {
            Random random = new Random(seed);
            Team team = team(random);
            List<Place> places = List.of(
                    new Place("s0", Set.of(), 480),
                    new Place("s1", EnumSet.of(DayOfWeek.of(1 + random.nextInt(7))), 900),
                    new Place("s2", EnumSet.of(DayOfWeek.SATURDAY, DayOfWeek.SUNDAY), 540));
            List<Need> needs = needs(random);
            List<Booking> bookings = bookings(random, team);
            Plan plan = VisitPlanner.plan(new VisitPlanner.Start(MONDAY, 0), needs, places, team, bookings, SETTINGS);

            eachOnce(seed, needs, plan);
            tripsAreAllowed(seed, plan, places, team);
            nobodyIsOverbooked(seed, plan, team, bookings);
            lateIsSaid(seed, plan, bookings);
            List<Need> shuffled = new ArrayList<>(needs);
            Collections.shuffle(shuffled, random);
            assertThat(VisitPlanner.plan(new VisitPlanner.Start(MONDAY, 0), shuffled, places, team, bookings, SETTINGS))
                    .as("seed %s, another order", seed)
                    .isEqualTo(plan);
        }
    }

    private static void eachOnce(int seed, List<Need> needs, Plan plan) {
        List<String> planned = Stream.of(
                        plan.trips().stream()
                                .flatMap(trip -> trip.needs().stream())
                                .map(Planned::need),
                        plan.joined().values().stream().flatMap(List::stream).map(Planned::need),
                        plan.waiting().stream().map(Waiting::need))
                .flatMap(all -> all)
                .map(Need::id)
                .toList();
        assertThat(planned)
                .as("seed %s", seed)
                .containsExactlyInAnyOrderElementsOf(
                        needs.stream().map(Need::id).toList());
    }

    private static void tripsAreAllowed(int seed, Plan plan, List<Place> places, Team team) {
        for (Trip trip : plan.trips()) {
            Engineer who = team.named(trip.engineer()).orElseThrow();
            Place place = places.stream()
                    .filter(each -> each.site().equals(trip.site()))
                    .findFirst()
                    .orElseThrow();
            Set<String> skills = trip.needs().stream()
                    .flatMap(each -> each.need().skills().stream())
                    .collect(Collectors.toSet());
            assertThat(place.isOpen(trip.day())).as("seed %s, open", seed).isTrue();
            assertThat(who.works(trip.day()) && who.has(skills) && who.goesTo(trip.site()))
                    .as("seed %s, %s", seed, trip)
                    .isTrue();
            assertThat(trip.day()).as("seed %s", seed).isAfterOrEqualTo(MONDAY);
            assertThat(trip.needs()).as("seed %s", seed).allSatisfy(each -> {
                assertThat(each.need().site()).isEqualTo(trip.site());
                assertThat(each.need().earliest()).isBeforeOrEqualTo(trip.day());
            });
        }
    }

    private static void nobodyIsOverbooked(int seed, Plan plan, Team team, List<Booking> bookings) {
        Map<String, Integer> minutes = new HashMap<>();
        Set<String> bookedDays = new TreeSet<>();
        for (Booking booking : bookings) {
            bookedDays.add(booking.engineer() + booking.day());
        }
        for (Trip trip : plan.trips()) {
            minutes.merge(trip.engineer() + trip.day(), trip.minutes() + SETTINGS.travelMinutes(), Integer::sum);
        }
        for (Trip trip : plan.trips()) {
            String key = trip.engineer() + trip.day();
            int day = team.named(trip.engineer()).orElseThrow().minutesPerDay();
            boolean oneLongNeed = trip.needs().size() == 1 && trip.minutes() + SETTINGS.travelMinutes() > day;
            if (!bookedDays.contains(key) && !oneLongNeed) {
                assertThat(minutes.get(key)).as("seed %s, %s", seed, key).isLessThanOrEqualTo(day);
            }
        }
    }

    private static void lateIsSaid(int seed, Plan plan, List<Booking> bookings) {
        for (Trip trip : plan.trips()) {
            trip.needs().forEach(each -> saysWhenLate(seed, each, trip.day()));
        }
        Map<UUID, LocalDate> days =
                bookings.stream().collect(Collectors.toMap(Booking::id, Booking::day, (one, other) -> one));
        plan.joined()
                .forEach((id, all) ->
                        all.forEach(each -> saysWhenLate(seed, each, Objects.requireNonNull(days.get(id)))));
    }

    private static void saysWhenLate(int seed, Planned each, LocalDate day) {
        boolean late = each.need().latest().filter(day::isAfter).isPresent();
        assertThat(each.problem().isEmpty()).as("seed %s, %s", seed, each).isEqualTo(!late);
    }

    private static Team team(Random random) {
        List<Engineer> engineers = new ArrayList<>();
        for (int i = 0; i < 1 + random.nextInt(3); i++) {
            Set<DayOfWeek> days = EnumSet.of(DayOfWeek.of(1 + random.nextInt(7)), DayOfWeek.of(1 + random.nextInt(7)));
            Set<String> skills =
                    SKILLS.stream().filter(skill -> random.nextInt(3) > 0).collect(Collectors.toSet());
            Optional<Set<String>> sites = random.nextInt(4) == 0 ? Optional.of(Set.of("s1")) : Optional.empty();
            engineers.add(new Engineer("e" + i, days, Optional.of(skills), sites, 240 + random.nextInt(300)));
        }
        return new Team(engineers, true);
    }

    private static List<Need> needs(Random random) {
        List<Need> needs = new ArrayList<>();
        for (int i = 0; i < random.nextInt(25); i++) {
            LocalDate earliest = MONDAY.plusDays(random.nextInt(12) - 4);
            Optional<LocalDate> latest =
                    random.nextInt(5) == 0 ? Optional.empty() : Optional.of(earliest.plusDays(random.nextInt(20) - 3));
            Set<String> skills = random.nextInt(3) == 0 ? Set.of(SKILLS.get(random.nextInt(3))) : Set.of("appliance");
            needs.add(Needs.need("n" + i, "s" + random.nextInt(3), earliest, latest, 15 + random.nextInt(200), skills));
        }
        return needs;
    }

    private static List<Booking> bookings(Random random, Team team) {
        List<Booking> bookings = new ArrayList<>();
        for (int i = 0; i < random.nextInt(4); i++) {
            Engineer who = team.engineers().get(random.nextInt(team.engineers().size()));
            bookings.add(new Booking(
                    new UUID(1, i),
                    "s" + random.nextInt(3),
                    MONDAY.plusDays(random.nextInt(8) - 1),
                    480,
                    60,
                    who.name(),
                    Set.of("held-" + i)));
        }
        return bookings;
    }
}
