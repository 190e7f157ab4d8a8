package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.ScopedVisits;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.Made;
import dev.rimecast.alerts.view.Visits.NewEffect;
import dev.rimecast.alerts.view.Visits.NewVisit;
import dev.rimecast.alerts.view.Visits.Outcome;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.plan.PartOrder;
import dev.rimecast.alerts.visits.plan.Planned;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.junit.jupiter.api.Test;

/** "Come on Thursday for the ice machine, and look at the other one." */
class VisitsByHandTest {
    private static final Person ADA = new Person("Ada");
    private static final LocalDate MONDAY = Firm.TODAY;
    private static final LocalDate THURSDAY = MONDAY.plusDays(3);
    private static final VisitRequest BOTH = new VisitRequest(List.of("m-a", "m-b"), "Look at both.", "J-12", 120);

    private static final Made OTHERWISE = new Made.Refused(
            "This visit is made already, otherwise than asked for now: look for it in the list, and move it.");

    private final Firm firm = new Firm(new MemoryVisitStore(), IceAhead.UNKNOWN);

    private static NewVisit wanted(String site, LocalDate day, String engineer) {
        return new NewVisit(UUID.randomUUID(), site, day, 570, engineer, BOTH);
    }

    private VisitView made(NewVisit wanted) {
        return ((Made.Added) firm.desk.make(wanted, ADA)).visit();
    }

    private List<VisitView> open() {
        return firm.desk.list(SiteScope.EVERY, Filter.OPEN);
    }

    private static List<String> needs(VisitView visit) {
        return visit.needs().stream().map(planned -> planned.need().id()).toList();
    }

    @Test
    void make_withNothingOpen_isAcceptedAndStays() {
        VisitView made = made(wanted("s0", THURSDAY, "Bo"));
        firm.desk.plan();

        assertThat(open()).containsExactly(made);
        assertThat(made.state()).isEqualTo(State.ACCEPTED);
        assertThat(made.sequence()).isZero();
        assertThat(made.minutes()).isEqualTo(120);
        assertThat(made.request()).contains(BOTH);
        assertThat(made.history())
                .containsExactly(new AuditLine(
                        Firm.MONDAY,
                        "Ada",
                        "made by hand",
                        "2026-05-07, 09:30 to 11:30, Bo: Look at both. (m-a, m-b), job J-12"));
    }

    @Test
    void make_caseWhoseDateItMeets_joinsIt_andIsOnNoVisitOfItsOwn() {
        firm.open("a", "s0", THURSDAY.plusDays(1));
        firm.desk.plan();
        UUID proposed = open().get(0).id();

        VisitView made = made(wanted("s0", THURSDAY, "Bo"));
        firm.open("b", "s0", THURSDAY);
        firm.desk.plan();

        assertThat(open()).extracting(VisitView::id).containsExactly(made.id());
        assertThat(needs(open().get(0))).containsExactly("case-a", "case-b");
        assertThat(open().get(0).minutes())
                .as("both take an hour: what was asked for is enough")
                .isEqualTo(120);
        assertThat(firm.desk.one(proposed).orElseThrow().state()).isEqualTo(State.CANCELLED);
    }

    @Test
    void make_caseWhoseDateIsBefore_hasItsOwnVisit() {
        firm.open("a", "s0", MONDAY.plusDays(1));

        VisitView made = made(wanted("s0", THURSDAY, "Bo"));

        assertThat(open()).hasSize(2);
        assertThat(open().get(0).day()).isBefore(THURSDAY);
        assertThat(needs(open().get(0))).containsExactly("case-a");
        assertThat(firm.desk.one(made.id()).orElseThrow().needs()).isEmpty();
    }

    @Test
    void make_moreThanFitsIntoItsHours_takesLonger() {
        for (String id : List.of("a", "b", "c")) {
            firm.open(id, "s0", THURSDAY);
        }

        VisitView made = made(wanted("s0", THURSDAY, "Bo"));

        assertThat(needs(made)).hasSize(3);
        assertThat(made.minutes()).isEqualTo(180);
    }

    @Test
    void make_twiceTheSame_isOneVisit() {
        NewVisit wanted = wanted("s0", THURSDAY, "Bo");
        VisitView first = made(wanted);

        Made again = firm.desk.make(wanted, new Person("Ada"));
        Made other = firm.desk.make(new NewVisit(wanted.id(), "s1", THURSDAY, 570, "Bo", BOTH), ADA);

        assertThat(again).isEqualTo(new Made.Known(first));
        assertThat(other).isEqualTo(OTHERWISE);
        assertThat(open()).hasSize(1);
    }

    /** The answer was lost, and the day corrected before it was sent again. */
    @Test
    void make_theSameIdOnAnotherDayHourOrByAnother_isRefusedAndSaysSo() {
        NewVisit first = wanted("s0", THURSDAY, "Bo");
        VisitView made = made(first);
        List<NewVisit> corrected = List.of(
                new NewVisit(first.id(), "s0", THURSDAY.plusDays(1), 570, "Bo", BOTH),
                new NewVisit(first.id(), "s0", THURSDAY, 600, "Bo", BOTH),
                new NewVisit(first.id(), "s0", THURSDAY, 570, "Cem", BOTH),
                new NewVisit(first.id(), "s0", THURSDAY, 570, "Bo", new VisitRequest(List.of(), "Other.", "", 120)));

        for (NewVisit again : corrected) {
            assertThat(firm.desk.make(again, ADA)).as("%s", again).isEqualTo(OTHERWISE);
        }

        assertThat(open()).containsExactly(made);
    }

    /** Somebody moved it while the answer was on its way. */
    @Test
    void make_theSameOfAVisitThatWasMoved_isKnownAsItStandsNow() {
        NewVisit first = wanted("s0", THURSDAY, "Bo");
        VisitView made = made(first);
        firm.desk.move(made.id(), 0, ADA, new Target(THURSDAY.plusDays(1), Optional.empty(), Optional.empty()), "");

        Made again = firm.desk.make(first, ADA);

        assertThat(again).isInstanceOf(Made.Known.class);
        assertThat(((Made.Known) again).visit().day()).isEqualTo(THURSDAY.plusDays(1));
    }

    @Test
    void make_whereItCanNotBe_isRefusedAndNothingIsKept() {
        assertThat(firm.desk.make(wanted("s9", THURSDAY, "Bo"), ADA)).isEqualTo(new Made.NoSite());
        assertThat(firm.desk.make(wanted("s0", MONDAY.minusDays(1), "Bo"), ADA))
                .isEqualTo(new Made.Refused("That day is over."));
        assertThat(firm.desk.make(wanted("s0", THURSDAY, "Nobody"), ADA))
                .isEqualTo(new Made.Refused("There is no engineer called Nobody."));
        assertThat(open()).isEmpty();
    }

    @Test
    void make_atASiteThatTheAccountDoesNotSee_isAsIfThereWasNone() {
        Visits some = ScopedVisits.of(firm.desk, SiteScope.of(List.of("s1")));
        NewVisit hidden = wanted("s0", THURSDAY, "Bo");

        assertThat(some.make(hidden, ADA)).isEqualTo(new Made.NoSite());
        assertThat(some.effect(hidden)).isEmpty();
        assertThat(open()).isEmpty();
        assertThat(some.make(wanted("s1", THURSDAY, "Bo"), ADA)).isInstanceOf(Made.Added.class);
    }

    /** An engineer goes to more sites than the account sees. */
    @Test
    void effect_whereTheEngineerIsAtASiteThatTheAccountDoesNotSee_saysElsewhere() {
        made(wanted("s0", THURSDAY, "Bo"));
        VisitView own = made(wanted("s1", THURSDAY.plusDays(1), "Bo"));
        Visits some = ScopedVisits.of(firm.desk, SiteScope.of(List.of("s1", "s2")));
        Target there = new Target(THURSDAY, Optional.of("Bo"), Optional.of(600));
        NewVisit wanted = wanted("s2", THURSDAY, "Bo");
        String hidden = "Bo is elsewhere from 09:30 to 11:30, and has 60 minutes of way.";
        String named = "Bo is at s0 from 09:30 to 11:30, and has 60 minutes of way.";

        assertThat(some.effect(wanted).orElseThrow().warnings()).containsExactly(hidden);
        assertThat(some.effect(own.id(), there).orElseThrow().warnings()).containsExactly(hidden);
        assertThat(some.effect(wanted, SiteScope.EVERY).orElseThrow().warnings())
                .containsExactly(hidden);
        assertThat(firm.desk.effect(wanted).orElseThrow().warnings()).containsExactly(named);
        assertThat(firm.desk.effect(own.id(), there).orElseThrow().warnings()).containsExactly(named);
    }

    @Test
    void effect_saysWhatGoesAlongWhatStaysApartAndWhatSpeaksAgainstIt_andKeepsNothing() {
        firm.open("a", "s0", THURSDAY.plusDays(3));
        firm.open("b", "s0", MONDAY.plusDays(1));
        firm.open("c", "s0", MONDAY, Optional.empty(), Set.of("refrigeration"));
        firm.open("d", "s1", THURSDAY);
        firm.desk.plan();
        List<VisitView> before = open();

        NewEffect effect =
                firm.desk.effect(wanted("s0", THURSDAY.plusDays(3), "Bo")).orElseThrow();

        assertThat(effect.refused()).isEmpty();
        assertThat(effect.joins()).containsExactly("trouble a (m-a)");
        assertThat(effect.apart()).containsExactly("2026-05-05, Cem, proposed: trouble b (m-b); trouble c (m-c)");
        assertThat(effect.warnings()).containsExactly("The site is closed that day.", "Bo does not work that day.");
        assertThat(effect.ice()).isEqualTo("Nobody can tell what this means for the site's ice.");
        assertThat(open()).isEqualTo(before);
        assertThat(firm.desk
                        .effect(wanted("s0", THURSDAY, "Nobody"))
                        .orElseThrow()
                        .refused())
                .isEqualTo("There is no engineer called Nobody.");
    }

    @Test
    void release_ofAVisitByHand_isRefused_sinceItWouldBeLost() {
        VisitView made = made(wanted("s0", THURSDAY, "Bo"));

        Outcome outcome = firm.desk.release(made.id(), 0, ADA, "");

        assertThat(((Outcome.NotAllowed) outcome).reason())
                .isEqualTo("It was made by hand, and planning would not make it: move it, or cancel it.");
    }

    @Test
    void cancel_bringsBackWhatHadJoined_andDone_leavesItAloneForADay() {
        firm.open("a", "s0", THURSDAY);
        VisitView made = made(wanted("s0", THURSDAY, "Bo"));
        firm.desk.cancel(made.id(), made.sequence(), ADA, "they called again");
        assertThat(open()).singleElement().satisfies(visit -> {
            assertThat(visit.state()).isEqualTo(State.PROPOSED);
            assertThat(needs(visit)).containsExactly("case-a");
        });

        VisitView again = made(wanted("s0", THURSDAY, "Bo"));
        firm.desk.done(again.id(), again.sequence(), ADA, "both looked at");

        assertThat(open()).isEmpty();
        assertThat(firm.desk.waiting(SiteScope.EVERY)).hasSize(1);
    }

    @Test
    void orders_haveTheLastDayOnWhichTheyComeInTime() {
        PartOrder motor = new PartOrder("Fan motor", 2, true, MONDAY);
        firm.orders.put(firm.open("a", "s0", THURSDAY).id(), List.of(motor));

        VisitView made = made(wanted("s0", THURSDAY, "Bo"));

        assertThat(made.orders()).containsExactly(motor);
        assertThat(motor.orderBy(made.day())).isEqualTo(MONDAY.plusDays(1));
        assertThat(firm.desk.toOrder()).extracting(VisitView::orders).containsExactly(List.of(motor));
        assertThat(made.needs()).extracting(Planned::problem).containsExactly("");
    }
}
