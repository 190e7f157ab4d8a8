package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.VisitRequest;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.visits.plan.Booking;
import dev.rimecast.alerts.visits.plan.Planned;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * A visit as it is kept; see {@link dev.rimecast.alerts.view.VisitView}.
 *
 * @param agreed empty while it is only proposed
 * @param request present where somebody made it by hand; it is never changed
 */
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
        Agreed agreed,
        Optional<VisitRequest> request,
        Instant createdAt,
        Instant changedAt,
        String changedBy) {

    /**
     * What a person took on with a visit; what planning adds to it, planning may take off again.
     *
     * @param needs their ids, also of those that are over by now; in the order of the visit
     * @param minutes of the visit then
     */
    public record Agreed(List<String> needs, int minutes) {
        public static final Agreed NOTHING = new Agreed(List.of(), 0);

        public Agreed {
            needs = List.copyOf(needs);
        }
    }

    /** As the database has it: by the digits of the id. */
    static final Comparator<Visit> BY_ID =
            Comparator.comparing(visit -> visit.id().toString());

    static final Comparator<Visit> BY_TIME = Comparator.comparing(Visit::day)
            .thenComparing(Visit::fromMinute)
            .thenComparing(Visit::site)
            .thenComparing(BY_ID);

    public Visit {
        needs = List.copyOf(needs);
    }

    Set<String> needIds() {
        return needs.stream().map(planned -> planned.need().id()).collect(Collectors.toSet());
    }

    /** Whose report ends it. */
    Set<String> machines() {
        Set<String> machines = new HashSet<>();
        request.ifPresent(asked -> machines.addAll(asked.machines()));
        needs.forEach(planned -> machines.addAll(planned.need().machines()));
        return machines;
    }

    Booking booking() {
        return new Booking(id, site, day, fromMinute, minutes, engineer, needIds(), idleMinutes());
    }

    /** Of what was asked for, what nothing takes up yet: of a visit by hand only. */
    private int idleMinutes() {
        return request.isPresent() ? Math.max(0, minutes - minutesOf(needs)) : 0;
    }

    private static int minutesOf(List<Planned> needs) {
        return needs.stream().mapToInt(planned -> planned.need().minutes()).sum();
    }

    /** The same visit for something else; without anything it keeps the minutes that were agreed. */
    Visit forWhat(List<Planned> needs) {
        int otherwise = needs.isEmpty() ? agreed.minutes() : minutesOf(needs);
        int minutes = request.map(asked -> Math.max(asked.minutes(), minutesOf(needs)))
                .orElse(otherwise);
        return with(day, fromMinute, minutes, engineer, needs);
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
                agreed,
                request,
                createdAt,
                changedAt,
                changedBy);
    }

    /** In another state; accepted, it is agreed for what it is for now, and proposed for nothing. */
    Visit as(State state, String note) {
        Agreed then = switch (state) {
            case ACCEPTED ->
                new Agreed(needs.stream().map(planned -> planned.need().id()).toList(), minutes);
            case PROPOSED -> Agreed.NOTHING;
            case DONE, CANCELLED -> agreed;
        };
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
                then,
                request,
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
                agreed,
                request,
                createdAt,
                at,
                who);
    }
}
