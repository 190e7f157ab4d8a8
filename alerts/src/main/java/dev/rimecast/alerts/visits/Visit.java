package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.visits.plan.Booking;
import dev.rimecast.alerts.visits.plan.Planned;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.List;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/** A visit as it is kept; see {@link dev.rimecast.alerts.view.VisitView}. */
public record Visit(
        UUID id,
        String site,
        LocalDate day,
        int fromMinute,
        int minutes,
        String engineer,
        State state,
        int sequence,
        String note,
        List<Planned> needs,
        Instant createdAt,
        Instant changedAt,
        String changedBy) {

    /** As the database has it: by the digits of the id. */
    static final Comparator<Visit> BY_ID =
            Comparator.comparing(visit -> visit.id().toString());

    public Visit {
        needs = List.copyOf(needs);
    }

    Set<String> needIds() {
        return needs.stream().map(planned -> planned.need().id()).collect(Collectors.toSet());
    }

    Booking booking() {
        return new Booking(id, site, day, fromMinute, minutes, engineer, needIds());
    }

    /** The same visit at another time, by somebody else, or for something else. */
    Visit with(LocalDate day, int fromMinute, int minutes, String engineer, List<Planned> needs) {
        return new Visit(
                id,
                site,
                day,
                fromMinute,
                minutes,
                engineer,
                state,
                sequence,
                note,
                needs,
                createdAt,
                changedAt,
                changedBy);
    }

    Visit as(State state, String note) {
        return new Visit(
                id,
                site,
                day,
                fromMinute,
                minutes,
                engineer,
                state,
                sequence,
                note.isEmpty() ? this.note : note,
                needs,
                createdAt,
                changedAt,
                changedBy);
    }

    /** Whether whoever goes there, or looks at a calendar, must know of the difference. */
    boolean matters(Visit before) {
        return !day.equals(before.day)
                || fromMinute != before.fromMinute
                || minutes != before.minutes
                || !engineer.equals(before.engineer)
                || state != before.state
                || !note.equals(before.note)
                || !titles().equals(before.titles());
    }

    private List<String> titles() {
        return needs.stream()
                .map(planned -> planned.need().id() + '|' + planned.need().title())
                .sorted()
                .toList();
    }

    /** The next one of {@code before}: the sequence counts up. */
    Visit after(Visit before, Instant at, String who) {
        return new Visit(
                id,
                site,
                day,
                fromMinute,
                minutes,
                engineer,
                state,
                before.sequence + 1,
                note,
                needs,
                createdAt,
                at,
                who);
    }
}
