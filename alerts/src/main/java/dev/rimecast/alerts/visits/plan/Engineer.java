package dev.rimecast.alerts.visits.plan;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Somebody who can be sent.
 *
 * @param days of the week on which they work
 * @param skills keys of {@code advice.yaml}; absent for somebody who can do everything
 * @param sites where they may go; absent for everywhere
 * @param minutesPerDay on the road and on sites together
 * @param away holidays and other absences
 */
public record Engineer(
        String name,
        Set<DayOfWeek> days,
        Optional<Set<String>> skills,
        Optional<Set<String>> sites,
        int minutesPerDay,
        List<Away> away) {

    /** From a day to another, both of them included. */
    public record Away(LocalDate from, LocalDate until) {
        public Away {
            if (until.isBefore(from)) {
                throw new IllegalArgumentException("away until " + until + " is before " + from);
            }
        }

        boolean includes(LocalDate day) {
            return !day.isBefore(from) && !day.isAfter(until);
        }
    }

    public Engineer(
            String name,
            Set<DayOfWeek> days,
            Optional<Set<String>> skills,
            Optional<Set<String>> sites,
            int minutesPerDay) {
        this(name, days, skills, sites, minutesPerDay, List.of());
    }

    public Engineer {
        days = Set.copyOf(days);
        skills = skills.map(Set::copyOf);
        sites = sites.map(Set::copyOf);
        away = List.copyOf(away);
        if (minutesPerDay <= 0) {
            throw new IllegalArgumentException("minutes_per_day must be above 0, was " + minutesPerDay);
        }
    }

    public boolean has(Collection<String> wanted) {
        return skills.isEmpty() || skills.get().containsAll(wanted);
    }

    public boolean goesTo(String site) {
        return sites.isEmpty() || sites.get().contains(site);
    }

    public boolean works(LocalDate day) {
        return days.contains(day.getDayOfWeek()) && !isAway(day);
    }

    /** Whatever the day of the week. */
    public boolean isAway(LocalDate day) {
        return away.stream().anyMatch(each -> each.includes(day));
    }

    /** What somebody can do beyond what is needed should stay free for those who need it. */
    int breadth() {
        return skills.map(Set::size).orElse(Integer.MAX_VALUE);
    }
}
