package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.VisitView;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.view.Visits.MoveEffect;
import dev.rimecast.alerts.view.Visits.NewEffect;
import dev.rimecast.alerts.view.Visits.NewVisit;
import dev.rimecast.alerts.view.Visits.Target;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.Planned;
import java.time.Instant;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Visits that somebody makes by hand: accepted from the start, for what they said and for whatever planning adds. */
final class ByHand {
    private ByHand() {}

    static Visit visit(NewVisit wanted, String who, Instant now) {
        int minutes = wanted.request().minutes();
        return new Visit(
                wanted.id(),
                wanted.site(),
                wanted.day(),
                wanted.fromMinute(),
                minutes,
                wanted.engineer(),
                State.ACCEPTED,
                0,
                "",
                List.of(),
                new Visit.Agreed(List.of(), minutes),
                Optional.of(wanted.request()),
                now,
                now,
                who);
    }

    static Target target(NewVisit wanted) {
        return new Target(wanted.day(), Optional.of(wanted.engineer()), Optional.of(wanted.fromMinute()));
    }

    /** Whether a visit was asked for just so, as its history begins; it may have been moved since. */
    static boolean isOf(VisitView visit, NewVisit wanted) {
        return visit.site().equals(wanted.site())
                && visit.request().filter(wanted.request()::equals).isPresent()
                && visit.history().stream().limit(1).anyMatch(line -> line.why().equals(said(wanted)));
    }

    /** For its history, as it was asked for. */
    static String said(NewVisit wanted) {
        LocalTime from = LocalTime.MIN.plusMinutes(wanted.fromMinute());
        String machines = wanted.request().machines().isEmpty()
                ? ""
                : " (" + String.join(", ", wanted.request().machines()) + ')';
        String job = wanted.request().job().isEmpty()
                ? ""
                : ", job " + wanted.request().job();
        return wanted.day() + ", " + from + " to "
                + from.plusMinutes(wanted.request().minutes()) + ", " + wanted.engineer() + ": "
                + wanted.request().reason() + machines + job;
    }

    /**
     * @param tried planning with the visit
     * @param move what stands against its day, hour and engineer
     */
    static NewEffect effect(DrySession tried, MoveEffect move) {
        List<String> apart = new ArrayList<>();
        tried.otherVisits().forEach(visit -> apart.add(other(visit)));
        tried.waiting().forEach(each -> apart.add(what(each.need()) + ": " + each.words()));
        List<String> joins = tried.draft().needs().stream()
                .map(planned -> planned.problem().isEmpty()
                        ? what(planned.need())
                        : what(planned.need()) + ": " + planned.problem())
                .toList();
        return new NewEffect("", joins, apart, move.warnings(), move.ice());
    }

    private static String other(Visit visit) {
        Stream<String> asked = visit.request().map(request -> request.reason()).stream();
        Stream<String> needs = visit.needs().stream().map(Planned::need).map(ByHand::what);
        return visit.day() + ", " + visit.engineer() + ", " + visit.state().code() + ": "
                + Stream.concat(asked, needs).collect(Collectors.joining("; "));
    }

    private static String what(Need need) {
        return need.machines().isEmpty()
                ? need.title()
                : need.title() + " (" + String.join(", ", need.machines()) + ')';
    }
}
