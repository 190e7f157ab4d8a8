package dev.rimecast.history.trial;

import dev.rimecast.history.compare.Difference;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * What has come of a trial.
 *
 * <p>Conservation: what the policy in force raised since the beginning, or had standing then, is {@code same}, or one of the
 * differences; and so is what the candidate did.
 *
 * @param reached minute up to which both have decided; empty while what was before the trial is still gone through
 * @param currentRaised how many alerts the policy in force has raised since the beginning
 * @param candidateRaised how many the candidate has
 * @param same how many stood at the beginning or came since, and are the same in both
 * @param isWhole false where the history no longer has the beginning of the log: both had to learn first
 * @param leftOut differences that were too many to be kept
 */
public record TrialResult(
        Optional<Instant> reached,
        long currentRaised,
        long candidateRaised,
        long same,
        List<Difference> differences,
        boolean isWhole,
        long leftOut) {
    public TrialResult {
        differences = List.copyOf(differences);
    }
}
