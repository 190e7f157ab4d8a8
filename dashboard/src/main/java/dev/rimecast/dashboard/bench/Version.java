package dev.rimecast.dashboard.bench;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A policy that came into force.
 *
 * @param number counts from 1
 * @param name that findings carry
 * @param source {@code product}, {@code file} or {@code person}
 * @param restores the version whose numbers it took up again
 * @param trial the trial in which it was tried
 * @param changes from the version before
 */
public record Version(
        int number,
        String name,
        String source,
        Instant at,
        String who,
        String why,
        Optional<Integer> restores,
        Optional<Integer> trial,
        List<Sheet.Change> changes) {
    public Version {
        changes = List.copyOf(changes);
    }

    /** With its text. */
    public record Whole(Version version, String text) {}
}
