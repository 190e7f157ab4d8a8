package dev.rimecast.alerts.visits.plan;

import static dev.rimecast.alerts.visits.plan.Needs.MONDAY;
import static dev.rimecast.alerts.visits.plan.Needs.SITE;
import static dev.rimecast.alerts.visits.plan.Needs.WORKING;
import static dev.rimecast.alerts.visits.plan.Needs.engineer;
import static dev.rimecast.alerts.visits.plan.Needs.ids;
import static dev.rimecast.alerts.visits.plan.Needs.need;
import static dev.rimecast.alerts.visits.plan.Needs.plan;
import static dev.rimecast.alerts.visits.plan.Needs.undated;
import static org.assertj.core.api.Assertions.assertThat;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;

class VisitPlannerTest {
    private static final LocalDate WEDNESDAY = MONDAY.plusDays(2);
    private static final LocalDate FRIDAY = MONDAY.plusDays(4);

    @Test
    void plan_twoDatesThatOneDayMeets_isOneTripWithADayToSpare() {
        Plan plan = plan(need("a", MONDAY, FRIDAY), need("b", WEDNESDAY, MONDAY.plusDays(9)));

        assertThat(plan.trips()).hasSize(1);
        assertThat(plan.trips().get(0).day()).isEqualTo(MONDAY.plusDays(3));
        assertThat(ids(plan.trips().get(0))).containsExactly("a", "b");
        assertThat(plan.trips().get(0).minutes()).isEqualTo(120);
        assertThat(plan.waiting()).isEmpty();
    }

    @Test
    void plan_partComesLaterThanTheDate_goesOnTheDayOfThePartAndSaysWhy() {
        Plan plan = plan(need("a", WEDNESDAY, MONDAY.plusDays(1)));

        assertThat(plan.trips().get(0).day()).isEqualTo(WEDNESDAY);
        assertThat(plan.trips().get(0).needs().get(0).problem())
                .isEqualTo("Misses its date, 2026-05-05: a part can't come before 2026-05-06");
    }

    @Test
    void plan_dateIsPast_goesOnTheFirstPossibleDay() {
        Plan plan = plan(need("a", MONDAY.minusDays(5), MONDAY.minusDays(1)));

        assertThat(plan.trips().get(0).day()).isEqualTo(MONDAY);
        assertThat(plan.trips().get(0).needs().get(0).problem()).contains("too late for that by now");
    }

    @Test
    void plan_onlySpecialistComesLate_saysWhoIsMissing() {
        Team team = new Team(
                List.of(
                        engineer("Bo", WORKING, "appliance"),
                        engineer("Cem", EnumSet.of(DayOfWeek.FRIDAY), "appliance", "refrigeration")),
                true);
        Need leak = need("leak", SITE, MONDAY, Optional.of(WEDNESDAY), 60, Set.of("refrigeration"));

        Plan plan = plan(List.of(leak, need("dust", MONDAY, WEDNESDAY)), team, List.of());

        assertThat(plan.trips()).extracting(Trip::engineer).containsExactly("Bo", "Cem");
        assertThat(plan.trips().get(1).day()).isEqualTo(FRIDAY);
        assertThat(plan.trips().get(1).needs().get(0).problem())
                .isEqualTo("Misses its date, 2026-05-06: nobody with the skills it needs (refrigeration)"
                        + " works before 2026-05-08");
    }

    @Test
    void plan_nobodyHasTheSkill_waitsAndSaysSo() {
        Team team = new Team(List.of(engineer("Bo", WORKING, "appliance")), true);
        Need leak = need("leak", SITE, MONDAY, Optional.of(WEDNESDAY), 60, Set.of("refrigeration"));

        Plan plan = plan(List.of(leak), team, List.of());

        assertThat(plan.trips()).isEmpty();
        assertThat(plan.waiting()).extracting(Waiting::reason).containsExactly(Waiting.Reason.IMPOSSIBLE);
        assertThat(plan.waiting().get(0).words()).endsWith("skills it needs: refrigeration");
    }

    @Test
    void plan_noDateOrOneBeyondTheHorizon_waitsUnlessSomebodyGoesThere() {
        Need slow = need("slow", MONDAY, MONDAY.plusDays(40));

        assertThat(plan(undated("low"), slow).waiting())
                .extracting(Waiting::reason)
                .containsExactly(Waiting.Reason.LATER, Waiting.Reason.NEXT_VISIT);
        assertThat(ids(plan(undated("low"), slow, need("a", MONDAY, FRIDAY))
                        .trips()
                        .get(0)))
                .containsExactly("a", "low", "slow");
    }

    @Test
    void plan_visitIsAccepted_takesWhatItCanInTimeAndNothingElse() {
        Booking booked = new Booking(new UUID(0, 1), SITE, WEDNESDAY, 480, 60, "Engineer", Set.of("x"));

        Plan plan = plan(
                List.of(need("a", MONDAY, FRIDAY), need("early", MONDAY, MONDAY.plusDays(1)), undated("low")),
                Team.UNKNOWN,
                List.of(booked));

        assertThat(plan.joined().get(booked.id()))
                .extracting(each -> each.need().id())
                .containsExactly("a", "low");
        assertThat(plan.trips()).hasSize(1);
        assertThat(ids(plan.trips().get(0))).containsExactly("early");
    }

    @Test
    void plan_twoVisitsAreAcceptedForOneDay_theEarlierTakesIt_whateverTheirIds() {
        for (boolean firstIdIsEarlier : List.of(true, false)) {
            Booking morning =
                    new Booking(new UUID(0, firstIdIsEarlier ? 1 : 2), SITE, WEDNESDAY, 480, 60, "Engineer", Set.of());
            Booking afternoon =
                    new Booking(new UUID(0, firstIdIsEarlier ? 2 : 1), SITE, WEDNESDAY, 840, 60, "Engineer", Set.of());

            Plan plan = plan(List.of(need("a", MONDAY, FRIDAY)), Team.UNKNOWN, List.of(afternoon, morning));

            assertThat(plan.joined()).containsOnlyKeys(morning.id());
        }
    }

    @Test
    void plan_dayIsFull_usesAnotherEngineerOrDay() {
        Team two = new Team(List.of(engineer("Bo", WORKING, "appliance")), true);
        Need long1 = need("a", "here", MONDAY, Optional.of(MONDAY.plusDays(1)), 300, Set.of());
        Need long2 = need("b", "there", MONDAY, Optional.of(MONDAY.plusDays(1)), 300, Set.of());

        Plan plan = plan(List.of(long1, long2), two, List.of());

        assertThat(plan.trips()).extracting(Trip::day).containsExactly(MONDAY, MONDAY.plusDays(1));
        assertThat(plan.trips())
                .allSatisfy(trip -> assertThat(trip.needs().get(0).problem()).isEmpty());
    }

    @Test
    void plan_siteIsClosedThatDay_goesOnAnother() {
        Place closed = new Place(SITE, EnumSet.of(DayOfWeek.TUESDAY, DayOfWeek.WEDNESDAY), 600);

        Plan plan = VisitPlanner.plan(
                new VisitPlanner.Start(MONDAY, 0),
                List.of(need("a", MONDAY, WEDNESDAY)),
                List.of(closed),
                Team.UNKNOWN,
                List.of(),
                PlanSettings.STANDARD);

        assertThat(plan.trips().get(0).day()).isEqualTo(MONDAY);
        assertThat(plan.trips().get(0).fromMinute()).isEqualTo(600);
    }

    @Test
    void plan_twoSitesOfOneEngineerOnOneDay_leavesTimeForTheWay() {
        Need here = need("a", "here", MONDAY, Optional.of(MONDAY), 90, Set.of());
        Need there = need("b", "there", MONDAY, Optional.of(MONDAY), 60, Set.of());

        Plan plan = VisitPlanner.plan(
                new VisitPlanner.Start(MONDAY, 0),
                List.of(here, there),
                List.of(new Place("here", Set.of(), 480), new Place("there", Set.of(), 500)),
                Team.UNKNOWN,
                List.of(),
                PlanSettings.STANDARD);

        assertThat(plan.trips()).extracting(Trip::fromMinute).containsExactly(480, 480 + 90 + 60);
    }

    @Test
    void orders_partWithACondition_isFoundByItsNameAndWhatIsNeededComesFirst() {
        PartLeads leads = new PartLeads(java.util.Map.of("Drain pump", 4, "fan motor", 2), true);

        List<String> parts = List.of("Fan motor", "Drain pump, if it has a drain pump", "Hose");
        assertThat(leads.orders(parts, List.of("Fan motor"), MONDAY))
                .containsExactly(
                        new PartOrder("Fan motor", 2, true, MONDAY),
                        new PartOrder("Drain pump, if it has a drain pump", 4, false, MONDAY));
        assertThat(PartLeads.IN_STOCK.orders(parts, parts, MONDAY)).isEmpty();
    }

    @Test
    void orders_ofTwoNeeds_areOfEachPartOnceAndNeededWhereOneNeedsIt() {
        PartOrder carried = new PartOrder("Fan motor", 2, false, MONDAY);
        PartOrder needed = new PartOrder("Fan motor", 2, true, WEDNESDAY);

        assertThat(PartOrder.together(List.of(carried, needed)))
                .containsExactly(new PartOrder("Fan motor", 2, true, MONDAY));
    }
}
