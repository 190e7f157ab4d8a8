package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/** Says in words why something can't be done in time, or not at all. */
final class Lateness {
    private final Team team;
    private final LocalDate today;

    Lateness(Team team, LocalDate today) {
        this.team = team;
        this.today = today;
    }

    /** Empty where that day is in time, and not before what it takes is there. */
    String problem(Need need, LocalDate day) {
        Optional<LocalDate> latest = need.latest().filter(day::isAfter);
        if (need.earliest().isAfter(day)) {
            return latest.map(date -> "Misses its date, " + date).orElse("Too early") + ": a part can't come before "
                    + need.earliest();
        }
        if (latest.isEmpty()) {
            return "";
        }
        String late = "Misses its date, " + latest.get() + ": ";
        if (latest.get().isBefore(today)) {
            return late + "it is too late for that by now";
        }
        if (need.earliest().isAfter(latest.get())) {
            return late + "a part can't come before " + need.earliest();
        }
        Set<String> skills = new TreeSet<>(need.skills());
        boolean somebodyWorks = today.datesUntil(latest.get().plusDays(1))
                .anyMatch(each -> team.engineers().stream()
                        .anyMatch(e -> e.works(each) && e.goesTo(need.site()) && e.has(skills)));
        return late
                + (somebodyWorks
                        ? "the site is closed, or nobody has time before " + day
                        : "nobody with the skills it needs (" + String.join(", ", skills) + ") works before " + day);
    }

    /** Why no day was found. */
    String never(Need need) {
        List<Engineer> there =
                team.engineers().stream().filter(e -> e.goesTo(need.site())).toList();
        if (there.isEmpty()) {
            return "Nobody goes to this site";
        }
        if (there.stream().noneMatch(e -> e.has(need.skills()))) {
            return "Nobody who goes to this site has all of the skills it needs: "
                    + String.join(", ", new TreeSet<>(need.skills()));
        }
        return "No day within " + VisitPlanner.SEARCH_DAYS + " days on which the site is open and somebody has time";
    }
}
