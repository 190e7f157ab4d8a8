package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.MoveEffect;
import dev.rimecast.alerts.view.Visits.Outcome;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.plan.Engineer;
import dev.rimecast.alerts.visits.plan.Engineer.Away;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Planned;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import org.junit.jupiter.api.Test;

class VisitDeskTest {
    private static final Person ADA = new Person("Ada");
    private static final LocalDate MONDAY = Firm.TODAY;
    private static final LocalDate FRIDAY = MONDAY.plusDays(4);

    /** Ten kilograms more each day. */
    private static final IceAhead MELTING = new IceAhead() {
        @Override
        public OptionalDouble kgShort(String site, Instant now, Instant until) {
            return until.isAfter(now.plus(Duration.ofDays(8)))
                    ? OptionalDouble.empty()
                    : OptionalDouble.of(10.0 * Duration.between(now, until).toHours() / 24);
        }

        @Override
        public Optional<Instant> runsOut(String site, Instant now) {
            return Optional.of(now.plus(Duration.ofMinutes(260)));
        }
    };

    private final Firm firm = new Firm(new MemoryVisitStore(), MELTING);

    private VisitView only() {
        firm.desk.plan();
        List<VisitView> open = firm.desk.list(SiteScope.EVERY, Filter.OPEN);
        assertThat(open).hasSize(1);
        return open.get(0);
    }

    private static Target to(LocalDate day) {
        return new Target(day, Optional.empty(), Optional.empty());
    }

    @Test
    void plan_twice_changesNothing() {
        firm.open("a", "s0", FRIDAY);
        VisitView first = only();
        firm.now = firm.now.plusSeconds(600);

        assertThat(only()).isEqualTo(first);
        assertThat(first.state()).isEqualTo(State.PROPOSED);
        assertThat(first.sequence()).isZero();
    }

    @Test
    void plan_anotherNeedComesBeforeItIsAccepted_keepsItsIdentityAndMoves() {
        firm.open("a", "s0", FRIDAY);
        VisitView first = only();

        firm.open("b", "s0", MONDAY.plusDays(2));
        VisitView second = only();

        assertThat(second.id()).isEqualTo(first.id());
        assertThat(second.day()).isEqualTo(MONDAY.plusDays(1));
        assertThat(second.sequence()).isEqualTo(1);
        assertThat(second.needs()).hasSize(2);
    }

    @Test
    void accept_thenAnotherNeedComes_staysThatDayAndTakesIt() {
        firm.open("a", "s0", FRIDAY);
        VisitView proposed = only();
        firm.desk.accept(proposed.id(), proposed.sequence(), ADA, "");
        firm.open("b", "s0", MONDAY.plusDays(5));

        VisitView after = only();

        assertThat(after.day()).isEqualTo(proposed.day());
        assertThat(after.state()).isEqualTo(State.ACCEPTED);
        assertThat(after.minutes()).isEqualTo(120);
        assertThat(after.history())
                .extracting(AuditLine::who, AuditLine::what)
                .containsExactly(
                        org.assertj.core.groups.Tuple.tuple("planning", "proposed"),
                        org.assertj.core.groups.Tuple.tuple("Ada", "accepted"),
                        org.assertj.core.groups.Tuple.tuple("planning", "more to do"));
    }

    /** The cause is another one by now: what it takes comes only after the day that was agreed. */
    @Test
    void accept_thenAPartComesLaterThanThatDay_staysAndSaysSo() {
        firm.open("a", "s0", FRIDAY);
        VisitView proposed = only();
        firm.desk.accept(proposed.id(), proposed.sequence(), ADA, "");
        LocalDate partComes = proposed.day().plusDays(1);
        firm.open("a", "s0", partComes, Optional.of(FRIDAY), Set.of("appliance"));

        VisitView after = only();

        assertThat(after.day()).isEqualTo(proposed.day());
        assertThat(after.needs())
                .extracting(Planned::problem)
                .containsExactly("Too early: a part can't come before " + partComes);
    }

    @Test
    void accept_somethingElseThanWasLookedAt_isToldHowItStands() {
        firm.open("a", "s0", FRIDAY);
        VisitView proposed = only();
        firm.desk.accept(proposed.id(), proposed.sequence(), ADA, "");

        Outcome second = firm.desk.accept(proposed.id(), proposed.sequence(), ADA, "");

        assertThat(second).isInstanceOf(Outcome.Changed.class);
    }

    @Test
    void effect_ofALaterDay_saysWhichDateIsMissedAndHowMuchIceIsShort() {
        firm.open("a", "s0", FRIDAY);
        VisitView visit = only();

        MoveEffect effect = firm.desk.effect(visit.id(), to(MONDAY.plusDays(7))).orElseThrow();

        assertThat(effect.refused()).isEmpty();
        assertThat(effect.missed()).containsExactly("trouble a (m-a): should be done by 2026-05-08");
        assertThat(effect.ice())
                .isEqualTo(
                        "By Mon 11 May, 09:00 the site is about 70 kg short, out of ice at Mon 4 May, 12:20; as planned"
                                + " now, by Thu 7 May, 09:00, about 30 kg short.");
        assertThat(effect.from()).isEqualTo("09:00");
        assertThat(firm.desk
                        .effect(visit.id(), to(MONDAY.plusDays(14)))
                        .orElseThrow()
                        .ice())
                .as("further than anybody can tell")
                .isEqualTo(
                        "The site is out of ice at Mon 4 May, 12:20; how much it lacks by Mon 18 May, 09:00 nobody can tell.");
    }

    @Test
    void effect_ofAnotherHour_isOfThatHourAndWarnsWhereTheEngineerIsElsewhere() {
        firm.open("a", "s0", FRIDAY);
        firm.open("b", "s1", FRIDAY);
        firm.desk.plan();
        List<VisitView> open = firm.desk.list(SiteScope.EVERY, Filter.OPEN);
        VisitView other = open.get(0);
        VisitView visit = open.get(1);
        firm.desk.move(other.id(), other.sequence(), ADA, at(MONDAY.plusDays(1), 10 * 60), "");

        MoveEffect clash =
                firm.desk.effect(visit.id(), at(MONDAY.plusDays(1), 11 * 60)).orElseThrow();
        MoveEffect early =
                firm.desk.effect(visit.id(), at(MONDAY.plusDays(1), 7 * 60)).orElseThrow();
        MoveEffect late =
                firm.desk.effect(visit.id(), at(MONDAY.plusDays(1), 16 * 60)).orElseThrow();

        assertThat(clash.from()).isEqualTo("11:00");
        assertThat(clash.warnings())
                .containsExactly("Bo is at " + other.site() + " from 10:00 to 11:00, and has "
                        + PlanSettings.STANDARD.travelMinutes() + " minutes of way.");
        assertThat(early.warnings()).containsExactly("The site opens at 09:00.");
        assertThat(late.warnings()).isEmpty();
        assertThat(late.ice()).startsWith("By Tue 5 May, 16:00 the site is about 13 kg short");
        int sequence = firm.desk.one(visit.id()).orElseThrow().sequence();
        firm.desk.move(visit.id(), sequence, ADA, at(MONDAY.plusDays(1), 16 * 60), "");
        assertThat(firm.desk.one(visit.id()).orElseThrow().fromMinute()).isEqualTo(16 * 60);
    }

    private static Target at(LocalDate day, int minute) {
        return new Target(day, Optional.of("Bo"), Optional.of(minute));
    }

    @Test
    void effect_ofASundayByWhoDoesNotWork_warns() {
        firm.open("a", "s0", FRIDAY);

        MoveEffect effect =
                firm.desk.effect(only().id(), to(MONDAY.plusDays(6))).orElseThrow();

        assertThat(effect.warnings()).containsExactly("The site is closed that day.", "Bo does not work that day.");
    }

    @Test
    void move_beforeThePartIsExpected_takesANote() {
        firm.open("a", "s0", MONDAY.plusDays(3), Optional.of(FRIDAY), Set.of("appliance"));
        VisitView visit = only();

        Outcome silent = firm.desk.move(visit.id(), visit.sequence(), ADA, to(MONDAY), " ");
        MoveEffect effect = firm.desk.effect(visit.id(), to(MONDAY)).orElseThrow();
        Outcome said =
                firm.desk.move(visit.id(), visit.sequence(), ADA, to(MONDAY), "They have no ice: see what helps.");

        assertThat(((Outcome.NotAllowed) silent).reason())
                .isEqualTo(
                        "trouble a: a part that it needs is not expected before 2026-05-07. Say in the note why somebody"
                                + " goes all the same.");
        assertThat(effect.refused()).isEmpty();
        assertThat(effect.noteNeeded()).isTrue();
        assertThat(effect.warnings())
                .containsExactly("trouble a: a part that it needs is not expected before 2026-05-07.");
        assertThat(said).isInstanceOf(Outcome.Done.class);
        VisitView today = only();
        assertThat(today.day()).isEqualTo(MONDAY);
        assertThat(today.note()).isEqualTo("They have no ice: see what helps.");
        assertThat(today.needs())
                .extracting(Planned::problem)
                .containsExactly("Too early: a part can't come before 2026-05-07");
        assertThat(firm.desk
                        .effect(visit.id(), at(MONDAY, 12 * 60))
                        .orElseThrow()
                        .noteNeeded())
                .as("it was said for that day")
                .isFalse();
    }

    @Test
    void visit_partThatTakesDays_saysWhatToOrderWhileItIsOpen() {
        PartOrder motor = new PartOrder("Fan motor", 2, true, MONDAY);
        firm.orders.put(firm.open("a", "s0", FRIDAY).id(), List.of(motor));

        VisitView visit = only();
        firm.desk.done(visit.id(), visit.sequence(), ADA, "");

        assertThat(visit.orders()).containsExactly(motor);
        assertThat(firm.desk.one(visit.id()).orElseThrow().orders()).isEmpty();
    }

    /** The file says so only since the visit was accepted. */
    @Test
    void visit_whoGoesIsAwayThatDay_saysSoAndIsPlannedForSomebodyElse() {
        VisitStore store = new MemoryVisitStore();
        Firm before = new Firm(store, MELTING);
        before.open("a", "s0", FRIDAY);
        before.desk.plan();
        VisitView agreed = before.desk.list(SiteScope.EVERY, Filter.OPEN).get(0);
        before.desk.accept(agreed.id(), agreed.sequence(), ADA, "");
        Engineer cem = Firm.team().named("Cem").orElseThrow();
        Engineer bo = new Engineer(
                "Bo",
                EnumSet.allOf(DayOfWeek.class),
                Optional.of(Set.of("appliance")),
                Optional.empty(),
                480,
                List.of(new Away(MONDAY, MONDAY.plusDays(20))));
        Firm after = new Firm(store, MELTING, new Team(List.of(bo, cem), true));
        after.needs.putAll(before.needs);
        after.open("b", "s0", FRIDAY);

        after.desk.plan();

        assertThat(after.desk.list(SiteScope.EVERY, Filter.OPEN))
                .extracting(VisitView::engineer, VisitView::engineerAway)
                .containsExactlyInAnyOrder(
                        org.assertj.core.groups.Tuple.tuple("Bo", true),
                        org.assertj.core.groups.Tuple.tuple("Cem", false));
        assertThat(after.desk.effect(agreed.id(), to(FRIDAY)).orElseThrow().warnings())
                .containsExactly("Bo is away that day.");
    }

    @Test
    void move_toSomebodyWithoutTheSkill_isRefused() {
        firm.open("a", "s0", MONDAY, Optional.of(FRIDAY), Set.of("refrigeration"));
        VisitView visit = only();

        Outcome outcome = firm.desk.move(
                visit.id(), visit.sequence(), ADA, new Target(FRIDAY, Optional.of("Bo"), Optional.empty()), "");

        assertThat(((Outcome.NotAllowed) outcome).reason()).isEqualTo("Bo lacks what this needs: refrigeration.");
    }

    @Test
    void move_aProposedVisit_acceptsItSoThatPlanningLeavesItThere() {
        firm.open("a", "s0", FRIDAY);
        VisitView visit = only();

        firm.desk.move(visit.id(), visit.sequence(), ADA, to(MONDAY.plusDays(1)), "customer asked");
        VisitView after = only();

        assertThat(after.id()).isEqualTo(visit.id());
        assertThat(after.day()).isEqualTo(MONDAY.plusDays(1));
        assertThat(after.state()).isEqualTo(State.ACCEPTED);
        assertThat(after.sequence()).isEqualTo(1);
    }

    @Test
    void cancel_anAcceptedVisit_bringsItsNeedsBackAsAnotherVisit() {
        firm.open("a", "s0", FRIDAY);
        VisitView visit = only();
        firm.desk.accept(visit.id(), 0, ADA, "");
        firm.desk.cancel(visit.id(), 1, ADA, "nobody there");

        VisitView after = only();

        assertThat(after.id()).isNotEqualTo(visit.id());
        assertThat(firm.desk.one(visit.id()).orElseThrow().state()).isEqualTo(State.CANCELLED);
    }

    @Test
    void done_whatItWasForWaitsForProofAndComesBackAfterADay() {
        firm.open("a", "s0", FRIDAY);
        VisitView visit = only();
        firm.desk.accept(visit.id(), 0, ADA, "");
        firm.desk.done(visit.id(), 1, ADA, "");

        assertThat(firm.desk.list(SiteScope.EVERY, Filter.OPEN)).isEmpty();
        assertThat(firm.desk.waiting(SiteScope.EVERY))
                .extracting(Waiting::reason)
                .containsExactly(Waiting.Reason.VISITED);
        firm.now = Instant.parse("2026-05-05T08:00:00Z");
        assertThat(only().needs()).hasSize(1);
    }

    @Test
    void plan_everythingIsOver_cancelsWhatIsProposedAndKeepsWhatIsAcceptedEmpty() {
        firm.open("a", "s0", FRIDAY);
        firm.open("b", "s1", FRIDAY);
        firm.desk.plan();
        VisitView accepted =
                firm.desk.list(SiteScope.of(List.of("s1")), Filter.OPEN).get(0);
        firm.desk.accept(accepted.id(), 0, ADA, "");
        firm.needs.clear();

        VisitView left = only();

        assertThat(left.id()).isEqualTo(accepted.id());
        assertThat(left.needs()).isEmpty();
        assertThat(left.history().get(2).what()).isEqualTo("less to do");
    }

    @Test
    void randomDays_noNeedIsTwiceAndNoneIsLost() {
        int[] acts = new int[1];
        for (long seed = 0; seed < 60; seed++) {
            RandomVisits days = new RandomVisits(new Firm(new MemoryVisitStore(), IceAhead.UNKNOWN), seed);
            days.run(120, all -> {});
            assertThat(days.made.keySet())
                    .contains("opened", "closed", "accepted", "moved", "cancelled", "done or given back", "time")
                    .contains("made by hand", "made twice");
            acts[0] += days.made.values().stream().mapToInt(Integer::intValue).sum();
        }
        assertThat(acts[0]).isGreaterThan(4_000);
    }
}
