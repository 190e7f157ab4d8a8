package dev.rimecast.analytics.stream;

import java.time.Duration;
import java.util.function.LongSupplier;

/**
 * When a finding may end the transaction early. One that comes alone does so at once, since somebody waits for it. What follows
 * within {@link #SPACING} waits for the interval in which everything is committed, a fraction of that. Nor is it due before twice as long as the thread has stood still since, which a commit makes it do. So a storm of
 * findings is committed together, and half of the time at least is left for records, however slow the disk is. Shared by all
 * tasks of a stage: a commit is one of all of a thread's.
 */
final class PromptCommit {
    static final Duration SPACING = Duration.ofSeconds(1);

    private final LongSupplier nanos;
    private long askedAt;
    private long workedAt;
    private long longestStand;

    /** @param nanos monotonic */
    PromptCommit(LongSupplier nanos) {
        this.nanos = nanos;
        this.askedAt = nanos.getAsLong() - SPACING.toNanos();
        this.workedAt = nanos.getAsLong();
    }

    /** A thread works: to be called with every record, and every time that it has none. */
    synchronized void works() {
        long now = nanos.getAsLong();
        longestStand = Math.max(longestStand, now - workedAt);
        workedAt = now;
    }

    /** Whether to commit now; who gets yes does it. */
    synchronized boolean isDue() {
        long now = nanos.getAsLong();
        if (now - askedAt < Math.max(SPACING.toNanos(), 2 * longestStand)) {
            return false;
        }
        askedAt = now;
        workedAt = now;
        longestStand = 0;
        return true;
    }
}
