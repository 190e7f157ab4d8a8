package dev.rimecast.alerts.notice;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.Delivery.State;
import dev.rimecast.alerts.notice.NoticeRules.Plan;
import dev.rimecast.telemetry.finding.Priority;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class NoticeRulesTest {
    /** A Wednesday, within the desk's hours. */
    private static final Instant NOON = Instant.parse("2026-11-25T12:00:00Z");

    private static final Instant NIGHT = Instant.parse("2026-11-25T23:00:00Z");
    private static final Matter MATTER =
            new Matter(new UUID(1, 1), new UUID(2, 2), "bar", NOON, 0, Optional.empty(), false);

    private final NoticeRules rules = new NoticeRules(Books.desk());

    @Test
    void slowFault_isWatchedQuietlyUntilItsDateIsInTheHorizon() {
        Situation far = situation(Priority.MEDIUM, Duration.ofDays(15));
        assertThat(look(MATTER, far, NOON).create()).isEmpty();
        Plan near = look(MATTER, far, NOON.plus(Duration.ofDays(1)));
        assertThat(near.create()).extracting(Delivery::receiver).containsExactly("desk");
        assertThat(near.matter().told()).isPresent();
    }

    @Test
    void outsideTheHours_waitsForTheirBeginning_unlessIceIsAtRisk() {
        Situation medium = situation(Priority.HIGH, Duration.ofDays(1));
        Plan night = look(MATTER, medium, NIGHT);
        assertThat(night.create())
                .singleElement()
                .satisfies(d -> assertThat(d.dueAt()).isEqualTo("2026-11-26T07:00:00Z"));
        assertThat(look(MATTER, ice(medium), NIGHT).create())
                .singleElement()
                .satisfies(d -> assertThat(d.dueAt()).isEqualTo(NIGHT));
        Plan released = rules.look(
                night.matter().toldNow(NIGHT, Priority.HIGH, true),
                ice(medium),
                night.create(),
                Optional.of(NIGHT),
                NIGHT.plusSeconds(60));
        assertThat(released.release()).containsExactly(night.create().get(0).id());
    }

    @Test
    void secondNoticeOfAWeek_waits_unlessIceIsAtRisk() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Optional<Instant> told = Optional.of(NOON.minus(Duration.ofDays(6)));
        assertThat(rules.look(MATTER, high, List.of(), told, NOON).create()).isEmpty();
        assertThat(rules.look(MATTER, ice(high), List.of(), told, NOON).create())
                .isNotEmpty();
        assertThat(rules.look(MATTER, high, List.of(), told, NOON.plus(Duration.ofDays(1)))
                        .create())
                .isNotEmpty();
    }

    @Test
    void nobodyAcknowledges_nextStepIsToldOnce_countedFromWhenTheFirstWasDue() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = look(MATTER, high, NIGHT);
        List<Delivery> sent = as(first.create(), State.SENT);
        Instant due = Instant.parse("2026-11-26T07:00:00Z");
        assertThat(after(first, high, sent, due.plus(Duration.ofMinutes(29))).create())
                .isEmpty();
        Plan second = after(first, high, sent, due.plus(Duration.ofMinutes(30)));
        assertThat(second.create()).extracting(Delivery::receiver).containsExactly("standby");
        assertThat(second.create()).extracting(Delivery::kind).containsExactly(Kind.RAISED);
        List<Delivery> all =
                Stream.concat(sent.stream(), second.create().stream()).toList();
        assertThat(after(first, high, all, due.plus(Duration.ofDays(1))).create())
                .isEmpty();
        assertThat(after(first, seen(high), sent, due.plus(Duration.ofDays(1))).create())
                .as("somebody has seen it")
                .isEmpty();
    }

    @Test
    void worseAfterItWasSeen_isToldToTheFirstAgain_andTheNextCountFromThen() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = look(MATTER, high, NOON);
        List<Delivery> sent = as(first.create(), State.SENT);
        Instant later = NOON.plus(Duration.ofHours(3));
        Situation worse = unseenSince(high, later, true);
        Plan again = after(first, worse, sent, later);
        assertThat(again.create())
                .extracting(d -> d.receiver() + ' ' + d.kind() + ' ' + d.step())
                .containsExactly("desk WORSE 0");
        assertThat(again.create().get(0).id()).isNotEqualTo(sent.get(0).id());
        List<Delivery> both = join(sent, as(again.create(), State.SENT));
        assertThat(after(first, worse, both, later.plus(Duration.ofMinutes(29))).create())
                .isEmpty();
        Plan next = after(first, worse, both, later.plus(Duration.ofMinutes(30)));
        assertThat(next.create()).extracting(Delivery::receiver).containsExactly("standby");

        List<Delivery> three = join(both, as(next.create(), State.SENT));
        Instant evening = NOON.plus(Duration.ofHours(5));
        Situation third = unseenSince(high, evening, true);
        Plan desk = after(first, third, three, evening);
        assertThat(desk.create()).extracting(Delivery::receiver).containsExactly("desk");
        Plan standby =
                after(first, third, join(three, as(desk.create(), State.SENT)), evening.plus(Duration.ofMinutes(30)));
        assertThat(standby.create())
                .extracting(d -> d.receiver() + ' ' + d.kind())
                .containsExactly("standby WORSE");
        assertThat(standby.create().get(0).id())
                .isNotEqualTo(next.create().get(0).id());
    }

    @Test
    void shelfEnds_theNextCountFromThen_andTheFirstAreNotToldAgain() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = look(MATTER, high, NOON);
        List<Delivery> sent = as(first.create(), State.SENT);
        Instant later = NOON.plus(Duration.ofHours(3));
        Situation back = unseenSince(high, later, false);
        assertThat(after(first, back, sent, later.plus(Duration.ofMinutes(29))).create())
                .isEmpty();
        assertThat(after(first, back, sent, later.plus(Duration.ofMinutes(30))).create())
                .extracting(Delivery::receiver)
                .containsExactly("standby");
    }

    @Test
    void worseAfterItWasSeen_twoRoutesToTheSameFirst_tellThemOnce_andEachItsNext() {
        NoticeRules two = new NoticeRules(NoticeBook.parse("notices.yaml", """
                link: https://rimecast.example
                receivers:
                  desk: {outbox-only: true}
                  boss: {outbox-only: true}
                  chief: {outbox-only: true}
                routes:
                  - {name: one, steps: [{to: [desk]}, {to: [boss], unacknowledged-for: 30m}]}
                  - {name: other, steps: [{to: [desk]}, {to: [chief], unacknowledged-for: 30m}]}
                """, Path.of("")));
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = two.look(MATTER, high, List.of(), Optional.empty(), NOON);
        List<Delivery> sent = as(first.create(), State.SENT);
        Instant half = NOON.plus(Duration.ofMinutes(30));
        sent = join(
                sent,
                as(two.look(first.matter(), high, sent, Optional.of(NOON), half).create(), State.SENT));
        Instant later = NOON.plus(Duration.ofHours(3));
        Situation worse = unseenSince(high, later, true);
        Plan again = two.look(first.matter(), worse, sent, Optional.of(NOON), later);
        assertThat(again.create()).extracting(Delivery::receiver).containsExactly("desk");

        List<Delivery> all = join(sent, as(again.create(), State.SENT));
        Instant soon = later.plusSeconds(20);
        assertThat(two.look(first.matter(), worse, all, Optional.of(NOON), soon).create())
                .isEmpty();
        Instant next = later.plus(Duration.ofMinutes(30));
        assertThat(two.look(first.matter(), worse, all, Optional.of(NOON), next).create())
                .extracting(Delivery::receiver)
                .containsExactly("boss", "chief");
    }

    /** Readings of a gateway whose clock is ten minutes fast are taken; what it raised is not got worse when our clock comes there. */
    @Test
    void clockOfAGateway_thatIsFast_tellsNothingTwice() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = look(MATTER, high, NOON);
        List<Delivery> sent = as(first.create(), State.SENT);
        Instant fast = NOON.plus(Duration.ofMinutes(10));
        assertThat(after(first, unseenSince(high, fast, true), sent, fast).create())
                .isEmpty();
    }

    private static List<Delivery> join(List<Delivery> first, List<Delivery> then) {
        return Stream.concat(first.stream(), then.stream()).toList();
    }

    @Test
    void nobodyCouldBeReached_nextStepIsToldAtOnce() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = look(MATTER, high, NOON);
        Plan second = after(first, high, as(first.create(), State.FAILED), NOON.plusSeconds(60));
        assertThat(second.create()).extracting(Delivery::receiver).containsExactly("standby");
    }

    @Test
    void gotWorse_isToldToThoseWhoKnow_andAnewToOthers() {
        Situation medium = situation(Priority.MEDIUM, Duration.ofDays(5));
        Plan first = look(MATTER, medium, NOON);
        Plan worse = after(
                first,
                ice(situation(Priority.URGENT, Duration.ofHours(5))),
                as(first.create(), State.SENT),
                NOON.plusSeconds(600));
        assertThat(worse.create())
                .extracting(d -> d.receiver() + ' ' + d.kind())
                .containsExactly("desk WORSE", "log RAISED");
    }

    @Test
    void end_isToldWhereTheBeginningMayHaveArrived() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = look(MATTER, high, NOON);
        for (State state : List.of(State.SENT, State.SENDING)) {
            Plan end = after(first, over(high), as(first.create(), state), NOON.plusSeconds(60));
            assertThat(end.create()).extracting(Delivery::kind).containsExactly(Kind.OVER);
            assertThat(end.cancel()).isEmpty();
            assertThat(end.create()
                            .get(0)
                            .isItsTurn(Stream.concat(as(first.create(), state).stream(), end.create().stream())
                                    .toList()))
                    .isEqualTo(state == State.SENT);
        }
        assertThat(after(first, over(high), as(first.create(), State.FAILED), NOON.plusSeconds(60))
                        .create())
                .isEmpty();
    }

    @Test
    void cameAndWentBeforeItLeft_isWithdrawn_andTellsInOneNoticeWhatNeededAction() {
        for (Priority priority : List.of(Priority.HIGH, Priority.MEDIUM)) {
            Situation now = situation(priority, Duration.ofDays(1));
            Plan first = look(MATTER, now, NIGHT);
            Plan end = after(first, over(now), first.create(), NIGHT.plusSeconds(60));
            assertThat(end.cancel()).hasSize(1);
            assertThat(end.create())
                    .extracting(Delivery::kind)
                    .isEqualTo(priority == Priority.HIGH ? List.of(Kind.PASSED) : List.of());
            assertThat(end.matter().told().isPresent())
                    .as("a notice that nobody got takes no other one's place")
                    .isEqualTo(priority == Priority.HIGH);
        }
    }

    @Test
    void putAside_isWithdrawn_andToldAgainUnderANewIdWhenItCountsAgain() {
        Situation high = situation(Priority.HIGH, Duration.ofDays(1));
        Plan first = look(MATTER, high, NIGHT);
        Plan held = after(first, held(high), first.create(), NIGHT.plusSeconds(60));
        assertThat(held.cancel()).hasSize(1);
        Plan again = rules.look(
                held.matter(), high, as(first.create(), State.CANCELLED), Optional.empty(), NIGHT.plusSeconds(120));
        assertThat(again.create()).hasSize(1);
        assertThat(again.create().get(0).id())
                .isNotEqualTo(first.create().get(0).id());
    }

    @Test
    void lookedAtTwice_plansTheSameIds_andNothingOnceItIsWritten() {
        Situation urgent = ice(situation(Priority.URGENT, Duration.ofHours(3)));
        Plan first = look(MATTER, urgent, NOON);
        assertThat(look(MATTER, urgent, NOON)).isEqualTo(first);
        assertThat(after(first, urgent, first.create(), NOON).create()).isEmpty();
    }

    private Plan look(Matter matter, Situation situation, Instant at) {
        return rules.look(matter, situation, List.of(), Optional.empty(), at);
    }

    private Plan after(Plan plan, Situation situation, List<Delivery> before, Instant at) {
        return rules.look(plan.matter(), situation, before, plan.matter().told().map(Matter.Told::at), at);
    }

    static List<Delivery> as(List<Delivery> deliveries, State state) {
        return deliveries.stream().map(d -> as(d, state, d.attempts())).toList();
    }

    static Delivery as(Delivery d, State state, int attempts) {
        return new Delivery(
                d.id(), d.kind(), d.telling(), d.route(), d.step(), d.receiver(), state, attempts, d.dueAt());
    }

    private static Situation situation(Priority priority, Duration left) {
        return new Situation(
                false,
                true,
                true,
                true,
                Optional.of(NOON.minusSeconds(1)),
                true,
                priority,
                Optional.of(NOON.plus(left)),
                false,
                Trouble.MACHINE);
    }

    private static Situation ice(Situation s) {
        return with(s, s.isOver(), s.counts(), s.isUnseen(), s.unseenSince(), s.isWorse(), true);
    }

    private static Situation seen(Situation s) {
        return with(s, s.isOver(), s.counts(), false, Optional.empty(), false, s.iceAtRisk());
    }

    private static Situation held(Situation s) {
        return with(s, s.isOver(), false, false, Optional.empty(), false, s.iceAtRisk());
    }

    private static Situation over(Situation s) {
        return with(s, true, false, false, Optional.empty(), false, false);
    }

    private static Situation unseenSince(Situation s, Instant since, boolean isWorse) {
        return with(s, s.isOver(), s.counts(), true, Optional.of(since), isWorse, s.iceAtRisk());
    }

    private static Situation with(
            Situation s,
            boolean isOver,
            boolean counts,
            boolean isUnseen,
            Optional<Instant> unseenSince,
            boolean isWorse,
            boolean iceAtRisk) {
        return new Situation(
                isOver,
                s.speaks(),
                counts,
                isUnseen,
                unseenSince,
                isWorse,
                s.priority(),
                s.actBy(),
                iceAtRisk,
                s.trouble());
    }
}
