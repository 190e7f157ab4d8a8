package dev.rimecast.alerts.visits;

import java.time.Instant;
import java.util.Optional;
import java.util.OptionalDouble;

/** What a site is short of, as things stand. */
@FunctionalInterface
public interface IceAhead {
    /** Nobody can tell. */
    IceAhead UNKNOWN = (site, now, until) -> OptionalDouble.empty();

    /** Kilograms missing from {@code now} to {@code until}, as expected; empty where it can't be told. */
    OptionalDouble kgShort(String site, Instant now, Instant until);

    /** When the site runs out of ice, as expected; empty where it does not within the time that can be told, or nobody knows. */
    default Optional<Instant> runsOut(String site, Instant now) {
        return Optional.empty();
    }
}
