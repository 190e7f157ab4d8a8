package dev.rimecast.dashboard.system;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/** What whoever runs the product asks of it, beside its health and its counters. Asked by a person, a few times a minute. */
public interface SystemWatch {
    /** The product, what it runs on, and the engines, each with its version. */
    List<Version> versions();

    /** Where data is kept on disks of this machine. */
    List<Disk> disks();

    /**
     * Messages of which something was rejected, newest first.
     *
     * @throws RuntimeException if what keeps them does not answer
     */
    List<Rejected> rejects(int most);

    /**
     * Has a rejected message taken again, after a mend. Only what was rejected of it and not taken since is looked at.
     *
     * @param id of the message
     * @param by who asks for it
     * @throws RuntimeException if what keeps it does not answer: nothing was taken
     */
    ReplayOutcome replay(String id, String by);

    /**
     * Records that a stage could not process, newest first.
     *
     * @throws RuntimeException if what keeps them does not answer
     */
    List<DeadLetter> deadLetters(int most);

    /**
     * Has one taken again, after a mend.
     *
     * @param id of the letter
     * @param by who asks for it
     * @throws NotPossibleException if it can't be taken again now; its message says what to do instead
     * @throws RuntimeException if what keeps it does not answer: nothing was taken
     */
    RetakeOutcome retake(String id, String by);

    /**
     * Writes everything into one file, which the caller deletes. All goes on meanwhile; what is detected waits seconds.
     *
     * @throws NotPossibleException if it can't be done now or here
     */
    Path backup() throws IOException;

    /**
     * Machines whose readings wait for a row in the register.
     *
     * @throws RuntimeException if what keeps them does not answer
     */
    List<Unclaimed> unclaimed();

    /** A part and its version. */
    record Version(String part, String version) {}

    /** The disk under a directory, bytes. */
    record Disk(String path, long freeBytes, long totalBytes) {}

    /**
     * A message of which something was rejected.
     *
     * @param reasons {@code index code detail}, index {@code -} for the message as a whole
     * @param payload as it came
     * @param replays what came of it when somebody had it taken again, the oldest first
     */
    record Rejected(
            String id,
            Instant at,
            String sender,
            String topic,
            List<String> reasons,
            byte[] payload,
            List<Replayed> replays) {}

    /**
     * What came of a rejected message when somebody had it taken again.
     *
     * @param stored readings in their site's log since
     * @param unclaimed readings that wait for their machine since
     * @param rejected why the rest was rejected again, as in {@link Rejected}
     */
    record Replayed(Instant at, String by, int stored, int unclaimed, List<String> rejected) {}

    /** What became of asking for it. */
    sealed interface ReplayOutcome {
        /** It was looked at again. */
        record Done(Replayed replayed) implements ReplayOutcome {}

        /** Nothing of it is left to be taken. */
        record NothingLeft(Optional<Replayed> before) implements ReplayOutcome {}

        /** There is no such message, or not any more. */
        record Unknown() implements ReplayOutcome {}
    }

    /**
     * A record that a stage could not process.
     *
     * @param stage that could not
     * @param topic of Kafka, where it was
     * @param key the site, as a rule
     * @param content what it is, for a person; empty where nobody can read it, or it is text anyway
     * @param payload as it came
     * @param obstacle why it can't be taken again now, and what to do instead; empty where it can
     * @param isOpen whether it was not taken again, or in vain
     * @param retakes the oldest first
     */
    record DeadLetter(
            String id,
            Instant at,
            String stage,
            String topic,
            int partition,
            long offset,
            String key,
            String why,
            String content,
            byte[] payload,
            Optional<String> obstacle,
            boolean isOpen,
            List<Retake> retakes) {}

    /**
     * Somebody had a dead letter taken again.
     *
     * @param failedAgain why it could not be processed then either; empty: nothing is known of a failure
     */
    record Retake(Instant at, String by, Optional<String> failedAgain) {}

    /** What became of asking for it. */
    sealed interface RetakeOutcome {
        /** Its stage has it. */
        record Done(Retake retake) implements RetakeOutcome {}

        /** It was taken before. */
        record NothingLeft(Retake before) implements RetakeOutcome {}

        /** There is no such letter, or not any more. */
        record Unknown() implements RetakeOutcome {}
    }

    /** A machine in no register. */
    record Unclaimed(String machine, String gateway, long readings, Instant firstAt, Instant lastAt) {}
}
