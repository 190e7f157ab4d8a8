package dev.rimecast.dashboard.bench;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A policy that runs beside the one in force and notifies nobody.
 *
 * @param state {@code running}, {@code promoted} or {@code dropped}
 * @param base number of the version that was in force when it began
 * @param changes from that version
 * @param problem why it does not go on; absent while it does
 * @param progress while it goes through what was before
 * @param result what has come of it; absent before there is any
 */
public record Trial(
        int id,
        String state,
        Instant startedAt,
        String startedBy,
        String why,
        int base,
        List<Sheet.Change> changes,
        Optional<Ended> ended,
        Optional<String> problem,
        Optional<Progress> progress,
        Optional<Result> result) {

    /** How it ended. */
    public record Ended(Instant at, String by, String why) {}

    /**
     * What has come of it.
     *
     * @param reached minute up to which both have decided
     * @param currentRaised alerts of the policy in force since it began
     * @param candidateRaised alerts of the candidate since
     * @param same alerts that are the same in both
     * @param whole false where the history has lost the beginning of the log, so that both had to learn first
     * @param differenceCount of all, also those that are not listed
     * @param differences the newest first
     */
    public record Result(
            Optional<Instant> reached,
            long currentRaised,
            long candidateRaised,
            long same,
            boolean whole,
            long differenceCount,
            List<Differing> differences) {
        public Result {
            differences = List.copyOf(differences);
        }

        Result withoutDifferences() {
            return new Result(reached, currentRaised, candidateRaised, same, whole, differenceCount, List.of());
        }
    }

    public Trial {
        changes = List.copyOf(changes);
    }

    /** For a list. */
    public Trial brief() {
        return new Trial(
                id,
                state,
                startedAt,
                startedBy,
                why,
                base,
                changes,
                ended,
                problem,
                progress,
                result.map(Result::withoutDifferences));
    }
}
