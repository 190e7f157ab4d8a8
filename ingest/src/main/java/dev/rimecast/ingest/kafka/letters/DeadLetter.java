package dev.rimecast.ingest.kafka.letters;

import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * A record that a stage could not process, and what came of it since.
 *
 * @param id the same for the same record of the same source, however often it was put aside
 * @param at when it was put aside first
 * @param key as it came: the site, as a rule; may be empty
 * @param why it could not be processed
 * @param content what it is, for a person; empty where nobody can read it, or it is text anyway
 * @param payload as it came
 * @param obstacle why it can't be taken again now, and what to do instead; empty where it can
 * @param attempts to take it again, the oldest first
 */
public record DeadLetter(
        String id,
        Instant at,
        Source source,
        String key,
        String why,
        String content,
        byte[] payload,
        Optional<String> obstacle,
        List<Attempt> attempts) {
    public DeadLetter {
        attempts = List.copyOf(attempts);
    }

    /**
     * Where it was.
     *
     * @param stage that could not process it: {@code analytics}, {@code alerts}
     * @param offset at that time; a log that was put back from a backup has its records at others
     */
    public record Source(String stage, String topic, int partition, long offset) {}

    /**
     * Somebody had it taken again.
     *
     * @param failedAgain why it could not be processed then either; empty: nothing is known of a failure
     */
    public record Attempt(Instant at, String by, Optional<String> failedAgain) {
        Attempt failed(String reason) {
            return new Attempt(at, by, Optional.of(reason));
        }
    }

    /** Whether it was not taken again, or in vain. */
    public boolean isOpen() {
        return attempts.isEmpty()
                || attempts.get(attempts.size() - 1).failedAgain().isPresent();
    }
}
