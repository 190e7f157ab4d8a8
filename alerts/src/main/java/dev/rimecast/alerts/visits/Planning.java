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
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;

/**
 * One round of planning: what is accepted stays, what is proposed is planned anew and keeps its identity where it is for
 * the same. Conservation: each need is on one open visit, or waits with a reason.
 */
final class Planning {
    /** Who writes where no person did. */
    static final String PLANNING = "planning";

    private final Team team;
    private final PlanSettings settings;
    private final NeedSource.Found found;
    private final Instant now;
    private final Session session;
    private final Map<UUID, Written> writes = new TreeMap<>();

    Planning(Team team, PlanSettings settings, NeedSource.Found found, Instant now, Session session) {
        this.team = team;
        this.settings = settings;
        this.found = found;
        this.now = now;
        this.session = session;
    }

    /** @return what waits, after everything is written */
    List<Waiting> run() {
        Map<String, Need> open = new TreeMap<>();
        found.needs().forEach(need -> open.put(need.id(), need));
        List<Visit> accepted = new ArrayList<>();
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
                accepted.add(refreshed(visit, open));
            }
        }
        accepted.forEach(visit -> visit.needIds().forEach(open::remove));
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
                accepted.stream().map(Visit::booking).toList(),
                settings);
        accepted.forEach(visit -> join(visit, plan.joined().getOrDefault(visit.id(), List.of())));
        propose(plan.trips(), proposed);
        waiting.addAll(plan.waiting());
        session.write(List.copyOf(writes.values()));
        return waiting;
    }

    private Set<String> visited() {
        Set<String> visited = new HashSet<>();
        session.doneSince(now.minus(Duration.ofDays(settings.settleDays())))
                .forEach(visit -> visited.addAll(visit.needIds()));
        return visited;
    }

    private Optional<Reported> reported(Visit visit) {
        Instant from = visit.day().atStartOfDay(ZoneOffset.UTC).minusHours(14).toInstant();
        if (now.isBefore(from)) {
            return Optional.empty();
        }
        Set<String> machines = new HashSet<>();
        visit.needs().forEach(planned -> machines.addAll(planned.need().machines()));
        Instant since = from.isAfter(visit.createdAt()) ? from : visit.createdAt();
        return session.reported(visit.site(), machines, since);
    }

    /** What is over is taken off; what is there still is told as it is now. */
    private Visit refreshed(Visit visit, Map<String, Need> open) {
        List<Planned> needs = visit.needs().stream()
                .filter(planned -> open.containsKey(planned.need().id()))
                .map(planned -> {
                    Need need = open.getOrDefault(planned.need().id(), planned.need());
                    return new Planned(need, VisitPlanner.problem(need, visit.day(), team, found.start()));
                })
                .toList();
        int minutes = needs.isEmpty() || needs.size() == visit.needs().size() ? visit.minutes() : minutes(needs);
        Visit after = visit.with(visit.day(), visit.fromMinute(), minutes, visit.engineer(), needs);
        if (needs.size() < visit.needs().size()) {
            write(visit, after, PLANNING, "less to do", titles(gone(visit, after)));
        } else {
            write(visit, after, PLANNING, "changed", "");
        }
        return written(after);
    }

    private Visit written(Visit visit) {
        Written written = writes.get(visit.id());
        return written == null ? visit : written.visit();
    }

    private void join(Visit visit, List<Planned> more) {
        if (!more.isEmpty()) {
            List<Planned> needs = new ArrayList<>(visit.needs());
            needs.addAll(more);
            Visit before = session.find(visit.id()).orElse(visit);
            Visit after = visit.with(visit.day(), visit.fromMinute(), minutes(needs), visit.engineer(), needs);
            writes.remove(visit.id());
            write(before, after, PLANNING, "more to do", titles(more));
        }
    }

    private void propose(List<Trip> trips, List<Visit> proposed) {
        Map<Trip, Visit> known = VisitMatching.of(trips, proposed);
        for (Trip trip : trips) {
            Visit before = known.get(trip);
            if (before == null) {
                create(trip);
            } else {
                Visit after = before.with(trip.day(), trip.fromMinute(), trip.minutes(), trip.engineer(), trip.needs());
                write(before, after, PLANNING, "planned anew", said(trip));
            }
        }
        for (Visit visit : proposed) {
            if (!known.containsValue(visit)) {
                write(visit, visit.as(State.CANCELLED, ""), PLANNING, "cancelled", "nothing is left to do by it");
            }
        }
    }

    private void create(Trip trip) {
        UUID id = newId(trip);
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
                now,
                now,
                PLANNING);
        writes.put(id, new Written(visit, Optional.of(new AuditLine(now, PLANNING, "proposed", said(trip)))));
    }

    /**
     * Made of what the visit was first for, so that the same month gives the same visits however often planning looked:
     * of the need that was there first, counted where it led to a visit before.
     */
    private UUID newId(Trip trip) {
        Need first = trip.needs().stream()
                .map(Planned::need)
                .min(Comparator.comparing(Need::earliest).thenComparing(Need::id))
                .orElseThrow();
        int number = 0;
        UUID id;
        do {
            number++;
            id = NameBasedId.of("visit|" + trip.site() + '|' + first.id() + '|' + number);
        } while (session.find(id).isPresent());
        return id;
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

    private static List<Planned> gone(Visit before, Visit after) {
        Set<String> left = after.needIds();
        return before.needs().stream()
                .filter(planned -> !left.contains(planned.need().id()))
                .toList();
    }

    private static int minutes(List<Planned> needs) {
        return needs.stream().mapToInt(planned -> planned.need().minutes()).sum();
    }

    private static String titles(List<Planned> needs) {
        return String.join(
                "; ", needs.stream().map(planned -> planned.need().title()).toList());
    }

    private static String said(Trip trip) {
        return trip.day() + ", " + trip.engineer() + ": " + titles(trip.needs());
    }
}
