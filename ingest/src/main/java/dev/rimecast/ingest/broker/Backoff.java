package dev.rimecast.ingest.broker;

import java.time.Duration;
import java.util.function.DoubleSupplier;

/**
 * How long to wait before the next attempt to connect: up to {@code first}, then up to twice as long each time, up to
 * {@code longest}; how much of it is chance, so that many instances don't come back at the same moment.
 */
final class Backoff {
    private final Duration first;
    private final Duration longest;
    private final DoubleSupplier random;
    private Duration next;

    /** @param random from 0 to below 1 */
    Backoff(Duration first, Duration longest, DoubleSupplier random) {
        this.first = first;
        this.longest = longest;
        this.random = random;
        this.next = first;
    }

    /** The wait before the next attempt: at least half of what it could be. */
    Duration next() {
        Duration most = next;
        Duration twice = next.multipliedBy(2);
        next = twice.compareTo(longest) > 0 ? longest : twice;
        return Duration.ofMillis(Math.round(most.toMillis() * (0.5 + random.getAsDouble() / 2)));
    }

    /** The connection has held: begin anew. */
    void reset() {
        next = first;
    }
}
