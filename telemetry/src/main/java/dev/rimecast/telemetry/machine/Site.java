package dev.rimecast.telemetry.machine;

import java.time.DayOfWeek;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/** A place that a visit is made to. */
public record Site(
        String id,
        String name,
        ZoneId timeZone,
        Optional<LocalTime> open,
        Optional<LocalTime> close,
        Set<DayOfWeek> closedDays,
        Optional<String> contact,
        Optional<String> language,
        OptionalDouble kgPerDay,
        OptionalDouble responseHours) {

    public Site {
        Ids.require("site", id);
        closedDays = Set.copyOf(closedDays);
    }

    /** A site of which only the identifier is known: its name is the identifier, its zone UTC. */
    public static Site basic(String id) {
        return new Site(
                id,
                id,
                ZoneId.of("UTC"),
                Optional.empty(),
                Optional.empty(),
                Set.of(),
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                OptionalDouble.empty());
    }
}
