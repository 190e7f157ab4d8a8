package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Which minutes of which engineer are taken. */
final class DayBook {
    private static final int LAST_MINUTE = 24 * 60 - 1;

    private record Key(String engineer, LocalDate day) {}

    private record Span(int from, int until) {}

    private final Team team;
    private final int travelMinutes;
    private final Map<Key, Integer> taken = new HashMap<>();
    private final Map<Key, List<Span>> spans = new HashMap<>();

    DayBook(Team team, int travelMinutes) {
        this.team = team;
        this.travelMinutes = travelMinutes;
    }

    /** Takes a trip into account: its minutes on site and its way. */
    void take(String engineer, LocalDate day, int minutes) {
        taken.merge(new Key(engineer, day), minutes + travelMinutes, Integer::sum);
    }

    /** More work on a trip that is taken into account already. */
    void takeMore(String engineer, LocalDate day, int minutes) {
        taken.merge(new Key(engineer, day), minutes, Integer::sum);
    }

    boolean hasRoomFor(String engineer, LocalDate day, int moreMinutes) {
        return team.named(engineer)
                .filter(e -> e.minutesPerDay() - taken.getOrDefault(new Key(engineer, day), 0) >= moreMinutes)
                .isPresent();
    }

    /**
     * Who can make a trip: of those who can, whoever can do the least else, so that specialists stay free.
     *
     * @param minutes on site
     * @param mayFillDay whether what is longer than somebody's day may take their whole day
     */
    Optional<Engineer> who(String site, LocalDate day, Collection<String> skills, int minutes, boolean mayFillDay) {
        return team.engineers().stream()
                .filter(e -> e.goesTo(site) && e.works(day) && e.has(skills))
                .filter(e -> {
                    int free = e.minutesPerDay() - taken.getOrDefault(new Key(e.name(), day), 0);
                    int wanted = minutes + travelMinutes;
                    return free >= (mayFillDay ? Math.min(wanted, e.minutesPerDay()) : wanted);
                })
                .min(Comparator.comparingInt(Engineer::breadth).thenComparing(Engineer::name));
    }

    void occupy(String engineer, LocalDate day, int from, int minutes) {
        spans.computeIfAbsent(new Key(engineer, day), key -> new ArrayList<>()).add(new Span(from, from + minutes));
    }

    /** The first minute from {@code open} on at which the engineer is at no other site and on no way there. */
    int firstFree(String engineer, LocalDate day, int open, int minutes) {
        int from = open;
        List<Span> busy = spans.getOrDefault(new Key(engineer, day), List.of()).stream()
                .sorted(Comparator.comparingInt(Span::from))
                .toList();
        for (Span span : busy) {
            if (from < span.until() + travelMinutes && span.from() < from + minutes + travelMinutes) {
                from = span.until() + travelMinutes;
            }
        }
        return Math.min(from, LAST_MINUTE);
    }
}
