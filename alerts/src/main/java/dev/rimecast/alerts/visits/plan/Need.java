package dev.rimecast.alerts.visits.plan;

import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * Something that an engineer must come for.
 *
 * @param id the same for as long as it is there, never used for another
 * @param ref the case, or the alert that says that care is due
 * @param title what it is about
 * @param why its evidence in one sentence; may be empty
 * @param machines those that are concerned; empty for a gateway or a whole site
 * @param earliest the first day on which all parts can be there, as a day of the site
 * @param latest the last day on which it is in time; absent where it has no date of its own
 * @param minutes usual time on site
 * @param skills keys of {@code advice.yaml}; one engineer must have all of them
 * @param siteCanCheck whether the probable cause lies in the surroundings, so that the site may put it right itself
 * @param since when it became known, by event time, as local time of the site
 */
public record Need(
        String id,
        Kind kind,
        UUID ref,
        String site,
        String title,
        String why,
        List<String> machines,
        LocalDate earliest,
        Optional<LocalDate> latest,
        int minutes,
        Set<String> skills,
        List<String> parts,
        boolean siteCanCheck,
        LocalDateTime since) {

    /** The most urgent first; what has no date comes last. */
    public static final Comparator<Need> BY_DATE = Comparator.comparing(
                    (Need need) -> need.latest().orElse(LocalDate.MAX))
            .thenComparing(Need::site)
            .thenComparing(Need::id);

    /** What was known first comes first. */
    public static final Comparator<Need> BY_AGE =
            Comparator.comparing(Need::since).thenComparing(Need::id);

    /** Where a need comes from. */
    public enum Kind {
        CASE,
        CARE;

        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    public Need {
        machines = List.copyOf(machines);
        skills = Set.copyOf(skills);
        parts = List.copyOf(parts);
        if (minutes <= 0) {
            throw new IllegalArgumentException("minutes must be above 0, was " + minutes);
        }
    }

    /** Whether a trip on that day is neither too early nor too late for it. */
    boolean allows(LocalDate day) {
        return !day.isBefore(earliest) && latest.filter(day::isAfter).isEmpty();
    }
}
