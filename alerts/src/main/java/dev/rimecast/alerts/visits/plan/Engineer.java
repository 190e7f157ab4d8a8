package dev.rimecast.alerts.visits.plan;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.Collection;
import java.util.Optional;
import java.util.Set;

/**
 * Somebody who can be sent.
 *
 * @param days of the week on which they work
 * @param skills keys of {@code advice.yaml}; absent for somebody who can do everything
 * @param sites where they may go; absent for everywhere
 * @param minutesPerDay on the road and on sites together
 */
public record Engineer(
        String name,
        Set<DayOfWeek> days,
        Optional<Set<String>> skills,
        Optional<Set<String>> sites,
        int minutesPerDay) {

    public Engineer {
        days = Set.copyOf(days);
        skills = skills.map(Set::copyOf);
        sites = sites.map(Set::copyOf);
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
        return days.contains(day.getDayOfWeek());
    }

    /** What somebody can do beyond what is needed should stay free for those who need it. */
    int breadth() {
        return skills.map(Set::size).orElse(Integer.MAX_VALUE);
    }
}
