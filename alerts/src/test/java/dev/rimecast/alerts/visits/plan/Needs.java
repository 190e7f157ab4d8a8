package dev.rimecast.alerts.visits.plan;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/** Needs and people of an invented firm. */
final class Needs {
    /** A Monday. */
    static final LocalDate MONDAY = LocalDate.of(2026, 5, 4);

    static final String SITE = "lantern";
    static final Set<DayOfWeek> WORKING = EnumSet.range(DayOfWeek.MONDAY, DayOfWeek.FRIDAY);
    static final Place OPEN = new Place(SITE, Set.of(), 8 * 60);

    private Needs() {}

    static Need need(String id, LocalDate earliest, LocalDate latest) {
        return need(id, SITE, earliest, Optional.of(latest), 60, Set.of("appliance"));
    }

    static Need undated(String id) {
        return need(id, SITE, MONDAY, Optional.empty(), 60, Set.of("appliance"));
    }

    static Need need(
            String id, String site, LocalDate earliest, Optional<LocalDate> latest, int minutes, Set<String> skills) {
        return new Need(
                id,
                Need.Kind.CASE,
                new UUID(0, id.hashCode()),
                site,
                "about " + id,
                "",
                List.of(id),
                earliest,
                latest,
                minutes,
                skills,
                List.of(),
                false,
                MONDAY.atStartOfDay());
    }

    static Engineer engineer(String name, Set<DayOfWeek> days, String... skills) {
        return new Engineer(name, days, Optional.of(Set.of(skills)), Optional.empty(), 480);
    }

    static Plan plan(List<Need> needs, Team team, List<Booking> bookings) {
        return VisitPlanner.plan(
                new VisitPlanner.Start(MONDAY, 0), needs, List.of(OPEN), team, bookings, PlanSettings.STANDARD);
    }

    static Plan plan(Need... needs) {
        return plan(List.of(needs), Team.UNKNOWN, List.of());
    }

    static List<String> ids(Trip trip) {
        return trip.needs().stream().map(each -> each.need().id()).sorted().toList();
    }
}
