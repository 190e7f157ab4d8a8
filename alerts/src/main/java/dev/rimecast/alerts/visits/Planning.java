package dev.rimecast.alerts.visits;

import dev.rimecast.alerts.view.AlertView.AuditLine;
import dev.rimecast.alerts.view.VisitView.State;
import dev.rimecast.alerts.visits.VisitStore.Reported;
import dev.rimecast.alerts.visits.VisitStore.Session;
import dev.rimecast.alerts.visits.VisitStore.Written;
import dev.rimecast.alerts.visits.plan.Need;
import dev.rimecast.alerts.visits.plan.Plan;
import dev.rimecast.alerts.visits.plan.PlanSettings;
import dev.rimecast.alerts.visits.plan.Planned;
import dev.rimecast.alerts.visits.plan.Team;
import dev.rimecast.alerts.visits.plan.Trip;
import dev.rimecast.alerts.visits.plan.VisitPlanner;
import dev.rimecast.alerts.visits.plan.Waiting;
import dev.rimecast.telemetry.finding.NameBasedId;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * One round of planning: what people have agreed to stays; the rest is planned anew, as if for the first time. So what
 * stands afterwards follows from what is known and decided by now, and not from when planning looked before. Conservation:
 * each need is on one open visit, or waits with a reason.
 */
final class Planning {
    /** Who writes where no person did. */
    static final String PLANNING = "planning";

    private final Team team;
    private final PlanSettings settings;
    private final NeedSource.Found found;
    private final Map<String, ZoneId> zones;
    private final Instant now;
    private final Session session;
    private final Map<UUID, Written> writes = new TreeMap<>();

    /** @param zones of the sites, by their id */
    Planning(
            Team team,
            PlanSettings settings,
            NeedSource.Found found,
            Map<String, ZoneId> zones,
            Instant now,
            Session session) {
        this.team = team;
        this.settings = settings;
        this.found = found;
        this.zones = zones;
        this.now = now;
        this.session = session;
    }

    /** @return what waits, after everything is written */
    List<Waiting> run() {
        List<Waiting> waiting = look();
        session.write(List.copyOf(writes.values()));
        return waiting;
    }

    /** @return what would wait; nothing is written */
    List<Waiting> look() {
        Map<String, Need> open = new TreeMap<>();
        found.needs().forEach(need -> open.put(need.id(), need));
        Map<Visit, Visit> accepted = new LinkedHashMap<>();
        List<Visit> proposed = new ArrayList<>();
        Set<String> visited = visited();
        List<Visit> known = session.open();
        Map<UUID, Reported> worked =
                session.worked(known.stream().map(Visit::id).toList());
        for (Visit visit : known) {
            Optional<Reported> there =
                    Optional.ofNullable(worked.get(visit.id())).or(() -> reported(visit));
            if (there.isPresent()) {
                write(visit, visit.as(State.DONE, ""), there.get().by(), "done", "a visit was reported");
                visited.addAll(visit.needIds());
            } else if (visit.state() == State.PROPOSED) {
                proposed.add(visit);
            } else {
                accepted.put(visit, agreed(visit, open));
            }
        }
        List<Waiting> waiting = new ArrayList<>();
        for (String id : visited) {
            Optional.ofNullable(open.remove(id))
                    .ifPresent(need -> waiting.add(new Waiting(
                            need,
                            Waiting.Reason.VISITED,
                            "Somebody was there: the next cycles tell whether it is over")));
        }
        Plan plan = VisitPlanner.plan(
                found.start(),
                open.values(),
                found.places(),
                team,
                accepted.values().stream().map(Visit::booking).toList(),
                settings);
        accepted.forEach((visit, agreed) -> keep(visit, agreed, plan.joined().getOrDefault(visit.id(), List.of())));
        propose(plan.trips(), proposed);
        waiting.addAll(plan.waiting());
        return waiting;
    }

    private Set<String> visited() {
        Set<String> visited = new HashSet<>();
        session.doneSince(now.minus(Duration.ofDays(settings.settleDays())))
                .forEach(visit -> visited.addAll(visit.needIds()));
        return visited;
    }

    /** From the beginning of its day at the site: who was there the day before came for something else. */
    private Optional<Reported> reported(Visit visit) {
        ZoneId zone = zones.getOrDefault(visit.site(), ZoneOffset.UTC);
        Instant from = visit.day().atStartOfDay(zone).toInstant();
        if (now.isBefore(from)) {
            return Optional.empty();
        }
        Instant since = from.isAfter(visit.createdAt()) ? from : visit.createdAt();
        return session.reported(visit.site(), visit.machines(), since);
    }

    /** The visit with what a person agreed to, as far as it is there, as it is now. What planning added is planned anew. */
    private Visit agreed(Visit visit, Map<String, Need> open) {
        List<Planned> needs = visit.agreed().needs().stream()
                .flatMap(id -> Stream.ofNullable(open.remove(id)))
                .map(need -> new Planned(need, VisitPlanner.problem(need, visit.day(), team, found.start())))
                .toList();
        return visit.forWhat(needs);
    }

    private void keep(Visit before, Visit agreed, List<Planned> joined) {
        List<Planned> needs = new ArrayList<>(agreed.needs());
        needs.addAll(joined);
        Visit after = before.forWhat(needs);
        List<Planned> more = without(after, before);
        List<Planned> less = without(before, after);
        if (more.isEmpty()) {
            write(before, after, less.isEmpty() ? "changed" : "less to do", titles(less));
        } else {
            String instead = less.isEmpty() ? "" : "; no longer: " + titles(less);
            write(before, after, "more to do", titles(more) + instead);
        }
    }

    private void propose(List<Trip> trips, List<Visit> proposed) {
        Set<UUID> planned = new HashSet<>();
        for (Trip trip : trips) {
            UUID id = idOf(trip);
            planned.add(id);
            Optional<Visit> known = session.find(id);
            if (known.isEmpty()) {
                create(id, trip);
            } else {
                Visit before = known.get();
                String what = before.state() == State.PROPOSED ? "planned anew" : "proposed again";
                Visit after = before.with(trip.day(), trip.fromMinute(), trip.minutes(), trip.engineer(), trip.needs())
                        .as(State.PROPOSED, "");
                write(before, after, what, said(trip));
            }
        }
        for (Visit visit : proposed) {
            if (!planned.contains(visit.id())) {
                write(visit, visit.as(State.CANCELLED, ""), "cancelled", "nothing is left to do by it");
            }
        }
    }

    private void create(UUID id, Trip trip) {
        Visit visit = new Visit(
                id,
                trip.site(),
                trip.day(),
                trip.fromMinute(),
                trip.minutes(),
                trip.engineer(),
                State.PROPOSED,
                0,
                "",
                trip.needs(),
                Visit.Agreed.NOTHING,
                Optional.empty(),
                now,
                now,
                PLANNING);
        writes.put(id, new Written(visit, Optional.of(new AuditLine(now, PLANNING, "proposed", said(trip)))));
    }

    /**
     * Made of what the visit is for, so that the same month gives the same visits however often planning looked: of the
     * need that became known first, counted where people have decided on a visit for it before. What only planning took
     * back is proposed again.
     */
    private UUID idOf(Trip trip) {
        Need first = trip.needs().stream().map(Planned::need).min(Need.BY_AGE).orElseThrow();
        int number = 0;
        UUID id;
        do {
            number++;
            id = NameBasedId.of("visit|" + trip.site() + '|' + first.id() + '|' + number);
        } while (session.find(id).filter(Planning::isDecided).isPresent());
        return id;
    }

    private static boolean isDecided(Visit visit) {
        return switch (visit.state()) {
            case PROPOSED -> false;
            case ACCEPTED, DONE -> true;
            case CANCELLED -> !visit.changedBy().equals(PLANNING);
        };
    }

    private void write(Visit before, Visit after, String what, String why) {
        write(before, after, PLANNING, what, why);
    }

    private void write(Visit before, Visit after, String who, String what, String why) {
        if (after.matters(before)) {
            writes.put(
                    after.id(),
                    new Written(after.after(before, now, who), Optional.of(new AuditLine(now, who, what, why))));
        } else if (!after.needs().equals(before.needs())) {
            writes.put(after.id(), new Written(after, Optional.empty()));
        }
    }

    private static List<Planned> without(Visit visit, Visit other) {
        Set<String> there = other.needIds();
        return visit.needs().stream()
                .filter(planned -> !there.contains(planned.need().id()))
                .toList();
    }

    private static String titles(List<Planned> needs) {
        return String.join(
                "; ", needs.stream().map(planned -> planned.need().title()).toList());
    }

    private static String said(Trip trip) {
        return trip.day() + ", " + trip.engineer() + ": " + titles(trip.needs());
    }
}
