package dev.rimecast.alerts.visits.plan;

import java.time.DayOfWeek;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;

/**
 * Who can be sent.
 *
 * @param isKnown whether a file says so; else one engineer is taken to do everything
 */
public record Team(List<Engineer> engineers, boolean isKnown) {
    /** Nobody has said who works when: one who can do everything, on every working day, eight hours. */
    public static final Team UNKNOWN = new Team(
            List.of(new Engineer(
                    "Engineer",
                    EnumSet.range(DayOfWeek.MONDAY, DayOfWeek.FRIDAY),
                    Optional.empty(),
                    Optional.empty(),
                    480)),
            false);

    public Team {
        engineers =
                engineers.stream().sorted(Comparator.comparing(Engineer::name)).toList();
    }

    public Optional<Engineer> named(String name) {
        return engineers.stream().filter(e -> e.name().equals(name)).findFirst();
    }
}
