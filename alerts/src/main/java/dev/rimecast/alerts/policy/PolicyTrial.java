package dev.rimecast.alerts.policy;

import java.time.Instant;
import java.util.Optional;

/**
 * A policy that runs beside the one in force and notifies nobody.
 *
 * @param base number of the change that was in force when it began
 * @param why never blank
 * @param since records of the sites' logs that arrived after this are decided by it
 */
public record PolicyTrial(
        int id,
        String yaml,
        int base,
        Instant startedAt,
        String startedBy,
        String why,
        Instant since,
        Optional<Ended> ended) {

    /**
     * How it ended.
     *
     * @param result what had come of it, as whoever ran it has written it
     */
    public record Ended(Instant at, String by, String why, Outcome outcome, String result) {}

    /** What became of it. */
    public enum Outcome {
        /** It is a policy in force since. */
        PROMOTED,
        DROPPED
    }

    public boolean isRunning() {
        return ended.isEmpty();
    }
}
