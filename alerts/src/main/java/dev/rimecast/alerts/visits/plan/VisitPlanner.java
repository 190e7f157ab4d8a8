package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.UUID;

/**
 * The fewest trips to each site that meet every date.
 *
 * <p>Each need is an interval of days on which it can be done; a trip is a point that must lie in it. Taking the need whose
 * last possible day comes first, going on that day, and taking along whatever else that day allows, uses the fewest points
 * (minimum stabbing set of intervals on a line; Kleinberg and Tardos, Algorithm Design, 2006, exercise 4.5 is the same
 * greedy rule). That is exact where engineers are alike and have room; with different skills and full days it is a good
 * answer, not a proven one. Within the interval that all of a trip share, the trip is then made a little earlier than it
 * must be.
 *
 * <table>
 * <caption>Cases</caption>
 * <tr><td>an accepted visit to the site can take it in time</td><td>joins it, what is known longest first</td></tr>
 * <tr><td>date within the horizon</td><td>on a trip</td></tr>
 * <tr><td>date past, or no possible day before it</td><td>on the first possible day, and says why it is late</td></tr>
 * <tr><td>date beyond the horizon, or none</td><td>joins a trip that is made anyway within its days, else waits</td></tr>
 * <tr><td>nobody has the skills, ever</td><td>waits, and says which are missing</td></tr>
 * </table>
 *
 * <p>Conservation: needs in = on trips + joined + waiting, each once. The result is a function of the arguments alone.
 * Cost: needs² × engineers, and {@value #SEARCH_DAYS} days for a need that has no possible day.
 */
public final class VisitPlanner {
    /** How far a possible day is looked for. */
    static final int SEARCH_DAYS = 120;

    private final LocalDate today;
    private final int fromMinuteToday;
    private final Map<String, Place> places;
    private final Team team;
    private final PlanSettings settings;
    private final DayBook days;
    private final Lateness lateness;

    private VisitPlanner(Start start, Map<String, Place> places, Team team, PlanSettings settings) {
        this.today = start.day();
        this.fromMinuteToday = start.fromMinute();
        this.places = places;
        this.team = team;
        this.settings = settings;
        this.days = new DayBook(team, settings.travelMinutes());
        this.lateness = new Lateness(team, today);
    }

    /**
     * From when on trips can be made.
     *
     * @param fromMinute on that day only
     */
    public record Start(LocalDate day, int fromMinute) {}

    /**
     * @param needs those that no booking has; in any order
     * @param places of every site that has a need; a site that is missing is never closed
     * @param bookings visits that were accepted, also those of other sites: they take engineers' time
     */
    public static Plan plan(
            Start start,
            Collection<Need> needs,
            Collection<Place> places,
            Team team,
            Collection<Booking> bookings,
            PlanSettings settings) {
        Map<String, Place> bySite = new HashMap<>();
        places.forEach(place -> bySite.put(place.site(), place));
        return new VisitPlanner(start, bySite, team, settings).plan(needs, bookings);
    }

    private Plan plan(Collection<Need> needs, Collection<Booking> accepted) {
        List<Booking> bookings = accepted.stream()
                .sorted(Comparator.comparing(Booking::day)
                        .thenComparing(Booking::fromMinute)
                        .thenComparing(Booking::id))
                .toList();
        for (Booking booking : bookings) {
            days.take(booking.engineer(), booking.day(), booking.minutes());
        }
        Set<Need> open = new TreeSet<>(Need.BY_DATE);
        open.addAll(needs);
        Map<UUID, List<Planned>> joined = join(open, bookings);
        for (Booking booking : bookings) {
            int more = moreMinutes(booking, joined.getOrDefault(booking.id(), List.of()));
            days.occupy(booking.engineer(), booking.day(), booking.fromMinute(), booking.minutes() + more);
        }
        List<Draft> drafts = new ArrayList<>();
        List<Waiting> waiting = new ArrayList<>();
        for (Need need : List.copyOf(open)) {
            if (open.contains(need) && isDue(need)) {
                Optional<Draft> draft = draft(need, open);
                draft.ifPresent(made -> {
                    made.members().forEach(open::remove);
                    drafts.add(made);
                });
                if (draft.isEmpty()) {
                    open.remove(need);
                    waiting.add(new Waiting(need, Waiting.Reason.IMPOSSIBLE, lateness.never(need)));
                }
            }
        }
        open.forEach(need -> waiting.add(waiting(need)));
        return new Plan(timed(drafts), joined, waiting);
    }

    private boolean isDue(Need need) {
        return need.latest()
                .filter(latest -> !latest.isAfter(today.plusDays(settings.horizonDays())))
                .isPresent();
    }

    private static Waiting waiting(Need need) {
        return need.latest().isPresent()
                ? new Waiting(
                        need,
                        Waiting.Reason.LATER,
                        "Not planned yet: it has time until " + need.latest().get())
                : new Waiting(need, Waiting.Reason.NEXT_VISIT, "At the next visit: it has no date of its own");
    }

    private Map<UUID, List<Planned>> join(Set<Need> open, List<Booking> bookings) {
        Map<UUID, List<Planned>> joined = new LinkedHashMap<>();
        for (Need need : open.stream().sorted(Need.BY_AGE).toList()) {
            Optional<LocalDate> last = lastWorthWaitingFor(need);
            Optional<Booking> taker = bookings.stream()
                    .filter(b -> b.site().equals(need.site()) && takes(b, need))
                    .filter(b -> !b.day().isBefore(need.earliest())
                            && last.filter(b.day()::isAfter).isEmpty())
                    .filter(b -> team.named(b.engineer())
                            .filter(e -> e.has(need.skills()) && !e.isAway(b.day()))
                            .isPresent())
                    .filter(b -> hasRoomFor(need, b, joined.getOrDefault(b.id(), List.of())))
                    .findFirst();
            taker.ifPresent(b -> {
                open.remove(need);
                List<Planned> along = joined.computeIfAbsent(b.id(), id -> new ArrayList<>());
                int before = moreMinutes(b, along);
                along.add(new Planned(need, lateness.problem(need, b.day())));
                days.takeMore(b.engineer(), b.day(), moreMinutes(b, along) - before);
            });
        }
        return joined;
    }

    private boolean hasRoomFor(Need need, Booking booking, List<Planned> along) {
        List<Planned> with = new ArrayList<>(along);
        with.add(new Planned(need, ""));
        int more = moreMinutes(booking, with) - moreMinutes(booking, along);
        return more == 0 || days.hasRoomFor(booking.engineer(), booking.day(), more);
    }

    /** What a booking takes longer with what goes along. */
    private static int moreMinutes(Booking booking, List<Planned> along) {
        int work = along.stream().mapToInt(planned -> planned.need().minutes()).sum();
        return Math.max(0, work - booking.idleMinutes());
    }

    /** What is known before it begins goes along, and stays until what the visit was for is left alone no longer. */
    private boolean takes(Booking booking, Need need) {
        boolean isOver = booking.day().plusDays(settings.settleDays()).isBefore(today);
        return !isOver && need.since().isBefore(booking.day().atStartOfDay().plusMinutes(booking.fromMinute()));
    }

    /** Its latest date; where no trip of its own could meet it, the first day of such a trip. Empty without a date. */
    private Optional<LocalDate> lastWorthWaitingFor(Need need) {
        boolean isLate = isDue(need) && lastPossible(need).isEmpty();
        return isLate ? firstPossible(need).or(need::latest) : need.latest();
    }

    /**
     * A trip that is being put together.
     *
     * @param last the last day on which it can be made for all of its members
     */
    private record Draft(List<Need> members, LocalDate last, Engineer who, LocalDate day) {
        String site() {
            return members.get(0).site();
        }

        int minutes() {
            return members.stream().mapToInt(Need::minutes).sum();
        }
    }

    private Optional<Draft> draft(Need need, Set<Need> open) {
        Optional<LocalDate> last = lastPossible(need).or(() -> firstPossible(need));
        if (last.isEmpty()) {
            return Optional.empty();
        }
        LocalDate point = last.get();
        List<Need> members = new ArrayList<>(List.of(need));
        Engineer who = who(members, point).orElseThrow();
        for (Need other : open) {
            if (!other.id().equals(need.id()) && other.site().equals(need.site()) && canGoAlong(other, point)) {
                members.add(other);
                Optional<Engineer> all = who(members, point);
                if (all.isEmpty()) {
                    members.remove(members.size() - 1);
                } else {
                    who = all.get();
                }
            }
        }
        LocalDate day = earlier(members, point);
        Engineer goes = day.equals(point) ? who : who(members, day).orElseThrow();
        Draft draft = new Draft(List.copyOf(members), point, goes, day);
        days.take(goes.name(), day, draft.minutes());
        return Optional.of(draft);
    }

    /** What is late goes along at once, whoever else is the reason for the trip. */
    private boolean canGoAlong(Need other, LocalDate day) {
        return other.allows(day)
                || (isDue(other)
                        && !day.isBefore(other.earliest())
                        && lastPossible(other).isEmpty());
    }

    private Optional<Engineer> who(List<Need> members, LocalDate day) {
        Set<String> skills = new HashSet<>();
        members.forEach(member -> skills.addAll(member.skills()));
        String site = members.get(0).site();
        int minutes = members.stream().mapToInt(Need::minutes).sum();
        boolean mayFillDay = members.size() == 1;
        return isOpen(site, day) ? days.who(site, day, skills, minutes, mayFillDay) : Optional.empty();
    }

    private boolean isOpen(String site, LocalDate day) {
        Place place = places.get(site);
        return place == null || place.isOpen(day);
    }

    /** The best day of those on which all members can be done: with some days to spare, but no sooner than that. */
    private LocalDate earlier(List<Need> members, LocalDate point) {
        LocalDate first = members.stream()
                .map(Need::earliest)
                .max(Comparator.naturalOrder())
                .filter(day -> day.isAfter(today))
                .orElse(today);
        LocalDate wanted = point.minusDays(settings.spareDays());
        Optional<LocalDate> before = lastFrom(members, first, wanted);
        return before.or(() -> firstFrom(members, first.isAfter(wanted) ? first : wanted, point))
                .orElse(point);
    }

    private Optional<LocalDate> lastPossible(Need need) {
        LocalDate first = need.earliest().isAfter(today) ? need.earliest() : today;
        return need.latest().flatMap(latest -> lastFrom(List.of(need), first, latest));
    }

    private Optional<LocalDate> lastFrom(List<Need> members, LocalDate first, LocalDate last) {
        for (LocalDate day = last; !day.isBefore(first); day = day.minusDays(1)) {
            if (who(members, day).isPresent()) {
                return Optional.of(day);
            }
        }
        return Optional.empty();
    }

    private Optional<LocalDate> firstPossible(Need need) {
        LocalDate first = need.earliest().isAfter(today) ? need.earliest() : today;
        return firstFrom(List.of(need), first, first.plusDays(SEARCH_DAYS));
    }

    private Optional<LocalDate> firstFrom(List<Need> members, LocalDate first, LocalDate last) {
        for (LocalDate day = first; !day.isAfter(last); day = day.plusDays(1)) {
            if (who(members, day).isPresent()) {
                return Optional.of(day);
            }
        }
        return Optional.empty();
    }

    /** Gives each trip its time of day: who must go first goes first. */
    private List<Trip> timed(List<Draft> drafts) {
        List<Trip> trips = new ArrayList<>();
        Map<LocalDate, List<Draft>> byDay = new TreeMap<>();
        drafts.forEach(draft ->
                byDay.computeIfAbsent(draft.day(), day -> new ArrayList<>()).add(draft));
        byDay.forEach((day, ofDay) -> {
            ofDay.sort(Comparator.comparing((Draft draft) -> open(draft.site(), day))
                    .thenComparing(Draft::last));
            for (Draft draft : ofDay) {
                String who = draft.who().name();
                int from = days.firstFree(who, day, open(draft.site(), day), draft.minutes());
                days.occupy(who, day, from, draft.minutes());
                List<Planned> needs = draft.members().stream()
                        .map(need -> new Planned(need, lateness.problem(need, day)))
                        .toList();
                trips.add(new Trip(draft.site(), day, from, draft.minutes(), who, needs));
            }
        });
        return trips;
    }

    private int open(String site, LocalDate day) {
        Place place = places.get(site);
        int opens = place == null ? 0 : place.fromMinute();
        return day.equals(today) ? Math.max(opens, fromMinuteToday) : opens;
    }

    /** What a need does not meet if it is done on that day; empty where it is in time. */
    public static String problem(Need need, LocalDate day, Team team, Start start) {
        return new Lateness(team, start.day()).problem(need, day);
    }

    /** The first minute of a day, from {@code open} on, at which an engineer has time between visits that are made. */
    public static int firstFree(
            String engineer, LocalDate day, int open, int minutes, Collection<Booking> others, int travelMinutes) {
        DayBook book = new DayBook(Team.UNKNOWN, travelMinutes);
        others.forEach(other -> book.occupy(other.engineer(), other.day(), other.fromMinute(), other.minutes()));
        return book.firstFree(engineer, day, open, minutes);
    }
}
