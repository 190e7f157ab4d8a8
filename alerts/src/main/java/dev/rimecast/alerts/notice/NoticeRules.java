package dev.rimecast.alerts.notice;

import dev.rimecast.alerts.notice.Delivery.Kind;
import dev.rimecast.alerts.notice.Delivery.State;
import dev.rimecast.telemetry.finding.Priority;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * Who is told what of a matter, and when. Pure: looked at twice without a change in between, the second look plans
 * nothing.
 *
 * <p>What holds at any time, for one matter and one receiver:
 *
 * <ul>
 *   <li>its end is sent only after the beginning arrived;
 *   <li>once its end is planned, nothing that asks for action is planned any more;
 *   <li>what waits untouched is withdrawn once it is no longer so. Where nothing of an urgent or high matter has left, one
 *       notice says that it came and went; of a lesser one the digest does.
 * </ul>
 */
public final class NoticeRules {
    /** An alert bears the time of its machine's readings, a notice that of this clock: so far apart they are the same moment. */
    private static final Duration CLOCKS_APART = Duration.ofMinutes(11);

    private final NoticeBook book;

    public NoticeRules(NoticeBook book) {
        this.book = book;
    }

    /**
     * What is to be written.
     *
     * @param create new notices
     * @param cancel waiting ones that must not be sent any more
     * @param release waiting ones that no longer wait for their receiver's hours
     */
    public record Plan(Matter matter, List<Delivery> create, Set<UUID> cancel, Set<UUID> release) {
        static Plan nothing(Matter matter) {
            return new Plan(matter, List.of(), Set.of(), Set.of());
        }
    }

    /**
     * @param before every notice of this matter so far, in the order of planning
     * @param siteToldAt when the site last got a notice that needs action, of any matter
     */
    public Plan look(Matter matter, Situation now, List<Delivery> before, Optional<Instant> siteToldAt, Instant at) {
        if (matter.isOver()) {
            return Plan.nothing(matter);
        }
        if (now.isOver()) {
            return end(matter, before, at);
        }
        if (!now.speaks() || !now.counts()) {
            return withdraw(matter, before);
        }
        if (mustTell(matter, now, siteToldAt, at)) {
            Plan told = tell(matter, now, before, at);
            if (!told.create().isEmpty()) {
                return told;
            }
        }
        List<Delivery> create = new ArrayList<>(planAgain(matter, now, before, at));
        for (Delivery step : escalate(matter, now, before, at)) {
            // A first step that was withdrawn and begins again is one notice.
            if (create.stream().noneMatch(d -> d.id().equals(step.id()))) {
                create.add(step);
            }
        }
        return new Plan(matter, create, Set.of(), now.iceAtRisk() ? held(before, at) : Set.of());
    }

    /** What was withdrawn while it did not count, and counts again. */
    private List<Delivery> planAgain(Matter matter, Situation now, List<Delivery> before, Instant at) {
        if (matter.told().isEmpty()) {
            return List.of();
        }
        Map<String, List<Delivery>> same = new LinkedHashMap<>();
        before.stream()
                .filter(d -> d.kind().tellsOfTrouble() && d.telling() == matter.telling())
                .forEach(d -> same.computeIfAbsent(
                                d.route() + '|' + d.step() + '|' + d.receiver(), k -> new ArrayList<>())
                        .add(d));
        List<Delivery> create = new ArrayList<>();
        for (List<Delivery> planned : same.values()) {
            if (planned.stream().allMatch(d -> d.state() == State.CANCELLED)) {
                Delivery first = planned.get(0);
                create.add(Delivery.planned(
                        matter,
                        hasBegun(before, first.receiver()) ? Kind.WORSE : Kind.RAISED,
                        first.route(),
                        first.step(),
                        first.receiver(),
                        planned.size(),
                        now.iceAtRisk() ? at : earliest(first.receiver(), at)));
            }
        }
        return create;
    }

    /** Somebody has put it aside, or it means nothing at the moment: what has not left is not sent. */
    private static Plan withdraw(Matter matter, List<Delivery> before) {
        Set<UUID> cancel = new LinkedHashSet<>();
        before.stream()
                .filter(d -> d.kind().tellsOfTrouble() && d.isUntouched())
                .forEach(d -> cancel.add(d.id()));
        boolean nothingLeft = !cancel.isEmpty() && before.stream().noneMatch(NoticeRules::hasLeft);
        return new Plan(nothingLeft ? matter.untold() : matter, List.of(), cancel, Set.of());
    }

    private static boolean hasLeft(Delivery delivery) {
        return delivery.mayArrive() || delivery.state() == State.FAILED;
    }

    private boolean mustTell(Matter matter, Situation now, Optional<Instant> siteToldAt, Instant at) {
        boolean isNews = matter.told()
                .map(told -> now.priority().compareTo(told.priority()) < 0 || (now.iceAtRisk() && !told.iceAtRisk()))
                .orElseGet(() -> now.iceAtRisk()
                        || now.priority() == Priority.URGENT
                        || now.actBy()
                                .filter(date -> !date.isAfter(at.plus(book.planningHorizon())))
                                .isPresent());
        boolean isAllowed = now.iceAtRisk()
                || siteToldAt
                        .filter(told -> at.isBefore(told.plus(book.quiet())))
                        .isEmpty();
        return isNews && isAllowed;
    }

    private Plan tell(Matter matter, Situation now, List<Delivery> before, Instant at) {
        Matter told = matter.toldNow(at, now.priority(), now.iceAtRisk());
        List<Delivery> create = new ArrayList<>();
        Set<UUID> cancel = new LinkedHashSet<>();
        Set<String> receivers = new HashSet<>();
        for (Route route : routes(matter, now)) {
            for (String receiver : route.steps().get(0).receivers()) {
                if (receivers.add(receiver)) {
                    Kind kind = hasBegun(before, receiver) ? Kind.WORSE : Kind.RAISED;
                    create.add(planned(told, kind, route, 0, receiver, now, at));
                }
            }
        }
        if (!create.isEmpty()) {
            // What still waits of the telling before is in the new one, for whoever gets that.
            before.stream()
                    .filter(d -> d.isUntouched() && receivers.contains(d.receiver()))
                    .forEach(d -> cancel.add(d.id()));
        }
        return new Plan(told, create, cancel, Set.of());
    }

    private static boolean hasBegun(List<Delivery> before, String receiver) {
        return before.stream()
                .anyMatch(d -> d.receiver().equals(receiver) && d.kind().tellsOfTrouble() && d.mayArrive());
    }

    private List<Route> routes(Matter matter, Situation now) {
        return book.routes().stream()
                .filter(route -> route.leads(matter.site(), now.priority(), now.trouble()))
                .toList();
    }

    private Delivery planned(
            Matter matter, Kind kind, Route route, int step, String receiver, Situation now, Instant at) {
        Instant due = now.iceAtRisk() ? at : earliest(receiver, at);
        return Delivery.planned(matter, kind, route.name(), step, receiver, due);
    }

    private Instant earliest(String receiver, Instant at) {
        return book.receiver(receiver).map(known -> known.earliest(at)).orElse(at);
    }

    /**
     * The next step of each route that was taken, once nobody has acknowledged for long enough, or nobody could be told. What
     * got worse after people had seen to it begins at the first step again, within the same telling: nobody is asked before
     * those whose matter it is.
     */
    private List<Delivery> escalate(Matter matter, Situation now, List<Delivery> before, Instant at) {
        if (matter.told().isEmpty() || !now.isUnseen()) {
            return List.of();
        }
        Matter.Told told = matter.told().get();
        List<Delivery> create = new ArrayList<>();
        for (Route route : book.routes()) {
            if (!route.leads(matter.site(), told.priority(), now.trouble())) {
                continue;
            }
            List<Delivery> own = before.stream()
                    .filter(d -> d.kind().tellsOfTrouble()
                            && d.telling() == matter.telling()
                            && d.route().equals(route.name()))
                    .toList();
            List<Delivery> sinceUnseen =
                    own.stream().filter(d -> isSinceUnseen(d, now)).toList();
            boolean beginsAgain = now.isWorse() && !own.isEmpty() && sinceUnseen.isEmpty();
            List<Delivery> round = sinceUnseen.isEmpty() ? own : sinceUnseen;
            int reached = round.stream().mapToInt(Delivery::step).max().orElse(0);
            int next = beginsAgain ? 0 : reached + 1;
            if (beginsAgain) {
                List<Delivery> elsewhere = before.stream()
                        .filter(d -> d.kind().tellsOfTrouble()
                                && d.telling() == matter.telling()
                                && isSinceUnseen(d, now)
                                && route.steps().get(0).receivers().contains(d.receiver()))
                        .toList();
                if (isToldAlready(route, elsewhere, create)) {
                    // By another route, from which this one goes on.
                    round = elsewhere;
                    reached = 0;
                    next = elsewhere.isEmpty() ? route.steps().size() : 1;
                    beginsAgain = false;
                }
            }
            if (beginsAgain
                    || (next < route.steps().size()
                            && isTimeFor(route.steps().get(next), last(round, reached), told, now, at))) {
                for (String receiver : route.steps().get(next).receivers()) {
                    if (next > 0 || create.stream().noneMatch(d -> d.receiver().equals(receiver))) {
                        create.add(step(matter, route, next, receiver, own, before, now, at));
                    }
                }
            }
        }
        return create;
    }

    private static boolean isToldAlready(Route route, List<Delivery> before, List<Delivery> now) {
        Set<String> told = new HashSet<>();
        before.forEach(d -> told.add(d.receiver()));
        now.forEach(d -> told.add(d.receiver()));
        return told.containsAll(route.steps().get(0).receivers());
    }

    private static boolean isSinceUnseen(Delivery delivery, Situation now) {
        return now.unseenSince()
                .filter(since -> delivery.dueAt().plus(CLOCKS_APART).isBefore(since))
                .isEmpty();
    }

    /** A step that was taken before in the same telling is another notice. */
    private Delivery step(
            Matter matter,
            Route route,
            int step,
            String receiver,
            List<Delivery> own,
            List<Delivery> before,
            Situation now,
            Instant at) {
        Kind kind = hasBegun(before, receiver) ? Kind.WORSE : Kind.RAISED;
        int taken = (int) own.stream()
                .filter(d -> d.step() == step && d.receiver().equals(receiver))
                .count();
        Instant due = now.iceAtRisk() ? at : earliest(receiver, at);
        return Delivery.planned(matter, kind, route.name(), step, receiver, taken, due);
    }

    private static List<Delivery> last(List<Delivery> own, int step) {
        return own.stream().filter(d -> d.step() == step).toList();
    }

    private static boolean isTimeFor(
            Route.Step next, List<Delivery> last, Matter.Told told, Situation now, Instant at) {
        boolean nobodyReached = !last.isEmpty() && last.stream().allMatch(d -> d.state() == State.FAILED);
        Instant due = last.stream().map(Delivery::dueAt).min(Instant::compareTo).orElse(told.at());
        Instant since = now.unseenSince().filter(unseen -> unseen.isAfter(due)).orElse(due);
        return nobodyReached || !at.isBefore(since.plus(next.after()));
    }

    private static Set<UUID> held(List<Delivery> before, Instant at) {
        Set<UUID> held = new LinkedHashSet<>();
        before.stream()
                .filter(d -> d.kind().tellsOfTrouble()
                        && d.isUntouched()
                        && d.dueAt().isAfter(at))
                .forEach(d -> held.add(d.id()));
        return held;
    }

    private Plan end(Matter matter, List<Delivery> before, Instant at) {
        Map<String, List<Delivery>> byReceiver = new LinkedHashMap<>();
        before.stream()
                .filter(d -> d.kind().tellsOfTrouble() && d.state() != State.CANCELLED)
                .forEach(d -> byReceiver
                        .computeIfAbsent(d.receiver(), receiver -> new ArrayList<>())
                        .add(d));
        List<Delivery> create = new ArrayList<>();
        Set<UUID> cancel = new LinkedHashSet<>();
        byReceiver.forEach((receiver, own) -> {
            own.stream().filter(Delivery::isUntouched).forEach(d -> cancel.add(d.id()));
            ending(matter, receiver, own, at).ifPresent(create::add);
        });
        boolean nothingLeft = before.stream().noneMatch(NoticeRules::hasLeft);
        boolean says = create.stream().anyMatch(d -> d.kind() == Kind.PASSED);
        // Then the site's next notice need not wait for one that nobody got.
        Matter ended = nothingLeft && !says ? matter.untold() : matter;
        return new Plan(ended.over(), create, cancel, Set.of());
    }

    private Optional<Delivery> ending(Matter matter, String receiver, List<Delivery> own, Instant at) {
        Optional<Delivery> begun = own.stream().filter(Delivery::mayArrive).findFirst();
        if (begun.isPresent()) {
            String route = begun.get().route();
            return tellsEnd(route)
                    ? Optional.of(Delivery.planned(matter, Kind.OVER, route, 0, receiver, earliest(receiver, at)))
                    : Optional.empty();
        }
        boolean neededAction = matter.told()
                .filter(told -> told.priority().compareTo(Priority.HIGH) <= 0 || told.iceAtRisk())
                .isPresent();
        Optional<Delivery> withdrawn =
                own.stream().filter(Delivery::isUntouched).findFirst();
        return withdrawn
                .filter(d -> neededAction)
                .map(d -> Delivery.planned(matter, Kind.PASSED, d.route(), 0, receiver, earliest(receiver, at)));
    }

    private boolean tellsEnd(String route) {
        return book.routes().stream()
                .filter(known -> known.name().equals(route))
                .findFirst()
                .map(Route::tellsEnd)
                .orElse(true);
    }
}
