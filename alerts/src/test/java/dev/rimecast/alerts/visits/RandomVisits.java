package dev.rimecast.alerts.visits;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.view.Person;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.Filter;
import dev.rimecast.alerts.view.Visits.Made;
import dev.rimecast.alerts.view.Visits.NewVisit;
import dev.rimecast.alerts.view.Visits.Outcome;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.plan.Waiting;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.function.Consumer;
import java.util.stream.Collectors;

/** Random days of a firm; after each step no need may be on two visits, and none may be lost. */
public final class RandomVisits {
    private static final Person ADA = new Person("Ada");

    private final Firm firm;
    private final Random random;
    private final String seed;
    private final Map<UUID, VisitView> before = new HashMap<>();
    private final Map<UUID, NewVisit> byHand = new HashMap<>();
    private int next;
    /** How often each kind of step was really made. */
    public final Map<String, Integer> made = new HashMap<>();

    public RandomVisits(Firm firm, long seed) {
        this.firm = firm;
        this.random = new Random(seed);
        this.seed = "seed " + seed;
    }

    /** @param afterEach called after every step with all visits there are */
    public void run(int steps, Consumer<List<VisitView>> afterEach) {
        for (int step = 0; step < steps; step++) {
            step();
            firm.desk.plan();
            afterEach.accept(check(step));
        }
    }

    private void step() {
        switch (random.nextInt(9)) {
            case 0, 1 -> {
                LocalDate today = firm.now.atZone(Firm.ZONE).toLocalDate();
                firm.open(
                        "n" + next++,
                        "s" + random.nextInt(3),
                        today.plusDays(random.nextInt(4)),
                        random.nextInt(4) == 0 ? Optional.empty() : Optional.of(today.plusDays(random.nextInt(20))),
                        random.nextInt(3) == 0 ? Set.of("refrigeration") : Set.of("appliance"));
                count("opened");
            }
            case 2 -> {
                if (!firm.needs.isEmpty()) {
                    List<String> ids = new ArrayList<>(firm.needs.keySet());
                    firm.needs.remove(ids.get(random.nextInt(ids.size())));
                    count("closed");
                }
            }
            case 3 -> act("accepted", State.PROPOSED, visit -> firm.desk.accept(visit.id(), visit.sequence(), ADA, ""));
            case 4 ->
                act(
                        "moved",
                        visit -> firm.desk.move(
                                visit.id(),
                                visit.sequence(),
                                ADA,
                                new Target(
                                        visit.day().plusDays(random.nextInt(5) - 2),
                                        random.nextBoolean() ? Optional.of("Cem") : Optional.empty(),
                                        Optional.empty()),
                                ""));
            case 5 -> act("cancelled", visit -> firm.desk.cancel(visit.id(), visit.sequence(), ADA, "not now"));
            case 6 ->
                act(
                        "done or given back",
                        visit -> random.nextBoolean()
                                ? firm.desk.done(visit.id(), visit.sequence(), ADA, "")
                                : firm.desk.release(visit.id(), visit.sequence(), ADA, ""));
            case 7 -> makeByHand();
            default -> {
                firm.now = firm.now.plus(Duration.ofHours(random.nextInt(40)));
                count("time");
            }
        }
    }

    /** Now and then twice, as by a double click. */
    private void makeByHand() {
        LocalDate today = firm.now.atZone(Firm.ZONE).toLocalDate();
        String site = "s" + random.nextInt(3);
        NewVisit wanted = new NewVisit(
                new UUID(random.nextLong(), random.nextLong()),
                site,
                today.plusDays(random.nextInt(10)),
                9 * 60 + random.nextInt(360),
                random.nextBoolean() ? "Bo" : "Cem",
                new VisitRequest(List.of("m-" + site), "look at it", "J-" + next, 30 + random.nextInt(200)));
        Made made = firm.desk.make(wanted, ADA);
        assertThat(made).as(seed).isInstanceOf(Made.Added.class);
        byHand.put(wanted.id(), wanted);
        count("made by hand");
        if (random.nextInt(3) == 0) {
            Made again = firm.desk.make(wanted, ADA);
            assertThat(again).as(seed).isInstanceOf(Made.Known.class);
            assertThat(((Made.Known) again).visit()).as(seed).isEqualTo(((Made.Added) made).visit());
            count("made twice");
        }
    }

    private void act(String what, java.util.function.Function<VisitView, Outcome> action) {
        act(firm.desk.list(SiteScope.EVERY, Filter.OPEN), what, action);
    }

    private void act(String what, State state, java.util.function.Function<VisitView, Outcome> action) {
        act(
                firm.desk.list(SiteScope.EVERY, Filter.OPEN).stream()
                        .filter(visit -> visit.state() == state)
                        .toList(),
                what,
                action);
    }

    private void act(List<VisitView> open, String what, java.util.function.Function<VisitView, Outcome> action) {
        if (!open.isEmpty() && action.apply(open.get(random.nextInt(open.size()))) instanceof Outcome.Done) {
            count(what);
        }
    }

    private void count(String what) {
        made.merge(what, 1, Integer::sum);
    }

    private List<VisitView> check(int step) {
        String where = seed + ", step " + step;
        List<VisitView> open = firm.desk.list(SiteScope.EVERY, Filter.OPEN);
        List<String> there = new ArrayList<>();
        open.forEach(visit ->
                visit.needs().forEach(planned -> there.add(planned.need().id())));
        firm.desk.waiting(SiteScope.EVERY).stream().map(Waiting::need).forEach(need -> there.add(need.id()));
        assertThat(there).as(where).containsExactlyInAnyOrderElementsOf(firm.needs.keySet());
        List<VisitView> all = firm.desk.list(
                SiteScope.EVERY,
                new Filter(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Set.of()));
        Set<UUID> ids = all.stream().map(VisitView::id).collect(Collectors.toSet());
        assertThat(ids).as(where).hasSameSizeAs(all).containsAll(byHand.keySet());
        assertThat(all.stream().filter(visit -> visit.request().isPresent()))
                .as(where)
                .hasSameSizeAs(byHand.keySet())
                .allSatisfy(visit -> {
                    assertThat(visit.request())
                            .contains(Objects.requireNonNull(byHand.get(visit.id()))
                                    .request());
                    assertThat(visit.minutes())
                            .isGreaterThanOrEqualTo(
                                    visit.request().orElseThrow().minutes());
                    assertThat(visit.state()).as("planning never takes it back").isNotEqualTo(State.PROPOSED);
                    assertThat(visit.state() == State.CANCELLED
                                    && visit.changedBy().equals(Planning.PLANNING))
                            .isFalse();
                });
        for (VisitView visit : all) {
            VisitView was = before.put(visit.id(), visit);
            if (was != null) {
                assertThat(visit.sequence()).as(where).isGreaterThanOrEqualTo(was.sequence());
                boolean sameTime = visit.day().equals(was.day())
                        && visit.fromMinute() == was.fromMinute()
                        && visit.engineer().equals(was.engineer())
                        && visit.state() == was.state();
                assertThat(visit.sequence() > was.sequence() || sameTime)
                        .as(where + ": what matters has another sequence")
                        .isTrue();
                boolean isWithdrawn =
                        was.state() == State.CANCELLED && was.changedBy().equals(Planning.PLANNING);
                if (!was.state().isOpen() && !isWithdrawn) {
                    assertThat(visit.state()).as(where).isEqualTo(was.state());
                }
            }
        }
        assertThat(open.stream().filter(v -> v.state() == State.PROPOSED))
                .as(where)
                .allSatisfy(v -> assertThat(v.needs()).isNotEmpty());
        return all;
    }
}
